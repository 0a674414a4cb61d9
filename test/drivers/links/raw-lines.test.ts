import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_LINES, RawLines } from '../../../drivers/links/raw-lines.js';

function texts(...chunks: (string | readonly number[])[]): string[] {
  const raw = new RawLines();
  for (const chunk of chunks)
    raw.push(typeof chunk === 'string' ? Buffer.from(chunk) : Uint8Array.from(chunk), 0);
  return raw.lines.map(({ text }) => text);
}

describe('raw lines', () => {
  it('a line is shown when it ends, however it was cut; a blank one is not', () => {
    expect(texts('T1: 41', '.3 °C\r', '\n\r\nT2')).toEqual(['T1: 41.3 °C']);
  });

  it('a frame of bytes without a line end is shown as hex at once', () => {
    expect(texts([0x01, 0x04, 0x02, 0xff, 0x38])).toEqual(['hex 01 04 02 ff 38']);
  });

  it('what a terminal would obey is not text', () => {
    expect(texts('\x1b[31mred\n')).toEqual(['hex 1b 5b 33 31 6d 72 65 64']);
  });

  it('a half line of the connection before is forgotten', () => {
    const raw = new RawLines();
    raw.push(Buffer.from('12.'), 0);
    raw.forgetPartial();
    raw.push(Buffer.from('5.02\n'), 7);
    expect(raw.lines).toEqual([{ number: 0, atMs: 7, text: '5.02' }]);
  });

  it('keeps the newest lines, numbered without a gap', () => {
    const raw = new RawLines();
    for (let i = 0; i < 3 * MOST_LINES; i += 1) raw.push(Buffer.from(`${i}\n`), i);
    expect(raw.lines).toHaveLength(MOST_LINES);
    expect(raw.lines.at(-1)).toEqual({ number: 149, atMs: 149, text: '149' });
  });

  it('holds a bounded number of short lines, whatever comes (seed 1109)', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 3000 }), { maxLength: 12 }), (chunks) => {
        const raw = new RawLines();
        for (const chunk of chunks) raw.push(chunk, 0);
        expect(raw.lines.length).toBeLessThanOrEqual(MOST_LINES);
        for (const { text } of raw.lines) expect(text.length).toBeLessThanOrEqual(200);
      }),
      { seed: 1109 },
    );
  });
});
