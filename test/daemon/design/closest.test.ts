import { describe, expect, it } from 'vitest';
import { closest, didYouMean, editDistance } from '../../../daemon/design/closest.js';

describe('editDistance', () => {
  // The first two are the textbook pairs of V. Levenshtein's distance; the swap is F. Damerau's.
  it.each([
    ['kitten', 'sitting', 3],
    ['Saturday', 'Sunday', 3],
    ['LM371', 'LM317', 1],
    ['', 'abc', 3],
    ['same', 'SAME', 0],
  ])('%s to %s is %i', (from, to, distance) => {
    expect(editDistance(from, to)).toBe(distance);
    expect(editDistance(to, from)).toBe(distance);
  });
});

describe('closest', () => {
  it('allows a third of the letters to be wrong', () => {
    expect(closest('regulater', ['regulator', 'r1'])).toEqual(['regulator']);
    expect(closest('colour', ['volts', 'va'])).toEqual([]);
  });

  it('finds a word inside another', () => {
    expect(didYouMean('L7805CV', ['LM317', '7805', '7812'])).toBe('; did you mean 7805?');
  });

  it('puts up with nothing and with very long words', () => {
    expect(closest('', ['a'])).toEqual([]);
    expect(closest('x'.repeat(100_000), ['x'])).toEqual([]);
  });
});
