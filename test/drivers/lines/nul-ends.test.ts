import { describe, expect, it } from 'vitest';
import { NulEnds } from '../../../drivers/lines/nul-ends.js';

function trimmed(...chunks: readonly string[]): string {
  const ends = new NulEnds();
  return chunks.map((chunk) => Buffer.from(ends.trimmed(Buffer.from(chunk))).toString()).join('');
}

describe('NulEnds', () => {
  it.each(['\n\0', '\r\n\0', '\r\0', '\r\n\0\0\0\0'])(
    'takes NULs away once two line ends had them, wherever it is cut: %j',
    (end) => {
      const stream = `2.06${end}12.07${end}12.08${end}12.09${end}`;
      const [line, nuls = ''] = end.split(/(\0+)/);
      const wanted = `2.06${line}${nuls}12.07${line}12.08${line}12.09${line}`;
      for (let cut = 0; cut <= stream.length; cut += 1) {
        expect(trimmed(stream.slice(0, cut), stream.slice(cut)), `cut after ${cut}`).toBe(wanted);
      }
      expect(trimmed(...stream)).toBe(wanted);
    },
  );

  it('leaves one that stands there now and then, and one within a line', () => {
    const stream = '12.06\n\x002.07\n12.08\n12.09\n\x002.10\n12.\x0011\n12.12\n';
    expect(trimmed(stream)).toBe(stream);
    expect(trimmed(...stream)).toBe(stream);
  });

  it('leaves one that comes first of all', () => {
    expect(trimmed('\0', '12.06\n')).toBe('\x0012.06\n');
  });

  it('gives a chunk without any back as it is', () => {
    const chunk = Buffer.from('12.06\n');
    expect(new NulEnds().trimmed(chunk)).toBe(chunk);
  });
});
