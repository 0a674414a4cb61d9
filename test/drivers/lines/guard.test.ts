import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineGuard, LONGEST_LINE_BYTES } from '../../../drivers/lines/guard.js';

/** What comes through a guard, and what it says of the rest. */
function guarded(
  chunks: readonly (string | Uint8Array)[],
  skipFirst = false,
): { lines: string[]; dropped: string[] } {
  let passed = '';
  const dropped: string[] = [];
  const guard = new LineGuard(
    {
      onLines: (lines) => {
        expect(lines.at(-1)).toBe(10); // whole lines only, so that the parser behind it holds nothing
        passed += Buffer.from(lines).toString('utf8');
      },
      onDropped: (code) => void dropped.push(code),
    },
    { skipFirst },
  );
  for (const chunk of chunks) guard.push(typeof chunk === 'string' ? Buffer.from(chunk) : chunk.slice());
  return { lines: passed.split('\n').slice(0, -1), dropped };
}

const trimmed = (lines: readonly string[]): string[] => lines.map((line) => line.trimEnd());

describe('LineGuard', () => {
  it('lets whole lines through and holds the last one until its end comes', () => {
    expect(guarded(['a\nbb\nc']).lines).toEqual(['a', 'bb']);
    expect(guarded(['a\nbb\nc', 'cc', '\n']).lines).toEqual(['a', 'bb', 'ccc']);
  });

  it.each(['\n', '\r\n', '\r'])('takes %j as a line end, wherever the chunks are cut', (end) => {
    const text = `one${end}two${end}three${end}`;
    for (let cut = 0; cut <= text.length; cut += 1) {
      const { lines } = guarded([text.slice(0, cut), text.slice(cut)]);
      expect(trimmed(lines), `cut after ${cut}`).toEqual(['one', 'two', 'three']);
    }
  });

  it.each(['\n', '\r\n'])(
    'passes a line of exactly the longest length before %j and drops one byte more',
    (end) => {
      const longest = 'x'.repeat(LONGEST_LINE_BYTES);
      const both = `a\n${longest}${end}b\n${longest}x${end}c\n`;
      for (const size of [both.length, 4096, 1000, 1]) {
        const chunks = both.match(new RegExp(`[^]{1,${size}}`, 'g')) ?? [];
        const { lines, dropped } = guarded(chunks);
        expect(trimmed(lines), `chunks of ${size}`).toEqual(['a', longest, 'b', 'c']);
        expect(dropped).toEqual(['line-too-long']);
      }
    },
  );

  it('drops a line of many chunks once and goes on after its end', () => {
    const block = 'x'.repeat(10_000);
    expect(guarded([block, block, block, 'y\ngood\n'])).toEqual({
      lines: ['good'],
      dropped: ['line-too-long'],
    });
  });

  it.each([
    ['a NUL', Buffer.from('12.\x0006\n')],
    ['a lone continuation byte', Buffer.from([0x31, 0xb0, 0x43, 10])],
    ['an overlong form', Buffer.from([0xc0, 0xae, 10])],
    ['half a character', Buffer.from([0x31, 0xc2, 10])],
    ['a surrogate', Buffer.from([0xed, 0xa0, 0x80, 10])],
  ])('drops a line with %s whole, and its neighbours not', (_, bad) => {
    // The last three are ill-formed by RFC 3629, sections 3 and 10.
    const whole = Buffer.concat([Buffer.from('before\n'), bad, Buffer.from('after\n')]);
    for (let cut = 0; cut <= whole.length; cut += 1) {
      const found = guarded([whole.subarray(0, cut), whole.subarray(cut)]);
      expect(found, `cut after ${cut}`).toEqual({ lines: ['before', 'after'], dropped: ['not-text'] });
    }
  });

  it('lets UTF-8 through, also when a character is cut in two', () => {
    const whole = Buffer.from('41.3 °C\n');
    for (let cut = 0; cut <= whole.length; cut += 1) {
      expect(guarded([whole.subarray(0, cut), whole.subarray(cut)]).lines).toEqual(['41.3 °C']);
    }
  });

  it('drops what stands before the first line end when told to, without counting it', () => {
    expect(guarded(['.06 V\n12.07 V\n'], true)).toEqual({ lines: ['12.07 V'], dropped: [] });
    expect(guarded(['2.', '06 V', '\r', '\n12.07 V\n'], true)).toEqual({ lines: ['12.07 V'], dropped: [] });
    expect(guarded(['\n12.07 V\n'], true)).toEqual({ lines: ['12.07 V'], dropped: [] });
  });

  it('counts an endless or spoilt beginning all the same', () => {
    expect(guarded(['x'.repeat(5000), '\nok\n'], true)).toEqual({
      lines: ['ok'],
      dropped: ['line-too-long'],
    });
    expect(guarded(['\0\0', 'x\nok\n'], true)).toEqual({ lines: ['ok'], dropped: ['not-text'] });
  });

  it('makes the same of bytes four at a time as of each by itself (seed 46)', () => {
    // In chunks of one byte every byte is looked at alone.
    const byte = fc.oneof(
      { weight: 8, arbitrary: fc.integer({ min: 0x20, max: 0x7e }) },
      { weight: 2, arbitrary: fc.constantFrom(10, 13) },
      { weight: 1, arbitrary: fc.constantFrom(0, 1, 9, 14, 127, 128, 0xc2, 0xb0, 255) },
    );
    fc.assert(
      fc.property(fc.array(byte, { maxLength: 200 }), fc.nat(7), fc.boolean(), (bytes, offset, skipFirst) => {
        const chunk = new Uint8Array(offset + bytes.length).subarray(offset);
        chunk.set(bytes);
        const single = bytes.map((each) => Uint8Array.of(each));
        const whole = guarded([chunk], skipFirst);
        const cut = guarded(single, skipFirst);
        expect(trimmed(whole.lines)).toEqual(trimmed(cut.lines));
        expect(whole.dropped).toEqual(cut.dropped);
      }),
      { seed: 46, numRuns: 3000 },
    );
  });
});
