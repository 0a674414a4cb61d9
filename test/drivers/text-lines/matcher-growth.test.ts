import fc from 'fast-check';
import { expect, it } from 'vitest';
import { LineMatcher } from '../../../drivers/text-lines/matcher.js';
import { parsePattern, PatternProblem, type Pattern } from '../../../drivers/text-lines/pattern.js';

/** What makes a matcher that goes back slow: pieces that overlap, skips, numbers that nearly fit. */
const PIECES = ['{...}', ' ', 'a', 'aa', 'ab', '{n} V', '{n mV}', ',', '1', '.'];
const LINE_PIECES = ['a', 'ab', ' ', '1', '.', ',', 'V', '-', 'e', '1.1.1'];
/** Each part of a pattern may look at the same few bytes once more: blanks, a number's end, its unit. */
const MOST_LOOKS_PER_BYTE = 8;

/** The pattern with its numbers given names of their own; null where a pattern may not be so. */
function patternOf(pieces: readonly string[]): Pattern | null {
  try {
    return parsePattern(pieces.map((piece, place) => piece.replace('{n', `{n${place}`)).join(''));
  } catch (error) {
    if (error instanceof PatternProblem) return null;
    throw error;
  }
}

/** How many bytes of the line the matcher looks at. */
function looks(pattern: Pattern, line: Uint8Array): number {
  let count = 0;
  const watched = new Proxy(line, {
    get(bytes, key) {
      if (typeof key === 'string' && /^\d+$/.test(key)) count += 1;
      const value: unknown = Reflect.get(bytes, key, bytes);
      return typeof value === 'function' ? (value.bind(bytes) as unknown) : value;
    },
  });
  new LineMatcher(pattern).match(watched);
  return count;
}

it('looks at each byte of a line a few times at most, whatever a person’s pattern is', () => {
  let patterns = 0;
  fc.assert(
    fc.property(
      fc.array(fc.constantFrom(...PIECES), { minLength: 1, maxLength: 24 }),
      fc.array(fc.constantFrom(...LINE_PIECES), { minLength: 1, maxLength: 6 }),
      fc.integer({ min: 1, max: 400 }),
      (pieces, repeated, times) => {
        const pattern = patternOf(pieces);
        if (pattern === null) return;
        patterns += 1;
        const line = Buffer.from(repeated.join('').repeat(times));
        expect(looks(pattern, line)).toBeLessThanOrEqual(
          MOST_LOOKS_PER_BYTE * (line.length + pattern.source.length + 1),
        );
      },
    ),
    { numRuns: 3000 },
  );
  expect(patterns).toBeGreaterThan(300);
});
