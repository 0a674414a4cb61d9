import { expect, it } from 'vitest';
import { spokenNumber } from '../../../daemon/watch/spoken-number.js';

// How numbers are said in English.
it.each([
  ['0', 'zero'],
  ['13', 'thirteen'],
  ['20', 'twenty'],
  ['38', 'thirty-eight'],
  ['100', 'one hundred'],
  ['104', 'one hundred and four'],
  ['999', 'nine hundred and ninety-nine'],
  ['1005', 'one thousand and five'],
  ['2340', 'two thousand three hundred and forty'],
  ['5.02', 'five point zero two'],
  ['-0.5', 'minus zero point five'],
])('%s is said %s', (written, said) => {
  expect(spokenNumber(written)).toBe(said);
});
