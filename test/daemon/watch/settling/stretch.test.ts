import { expect, it } from 'vitest';
import {
  beginStretch,
  deviationOf,
  extendStretch,
  trendOf,
} from '../../../../daemon/watch/settling/stretch.js';

// Anscombe, The American Statistician 27 (1973) 17-21, first set: mean 7.50, variance 4.12 to 4.13, slope 0.500 with a
// standard error of 0.118. Here x is the time in ms.
const ANSCOMBE = [
  [4, 4.26],
  [5, 5.68],
  [6, 7.24],
  [7, 4.82],
  [8, 6.95],
  [9, 8.81],
  [10, 8.04],
  [11, 8.33],
  [12, 10.84],
  [13, 7.58],
  [14, 9.96],
] as const;

it('has the mean, the spread and the line of what was put in', () => {
  const [first, ...others] = ANSCOMBE;
  const stretch = others.reduce((so, [x, y]) => extendStretch(so, x, y), beginStretch(...first));
  expect(stretch).toMatchObject({ count: 11, fromMs: 4, toMs: 14 });
  expect(stretch.mean).toBeCloseTo(7.5, 2);
  expect(deviationOf(stretch) ** 2).toBeCloseTo(4.127, 2);
  expect(trendOf(stretch).change).toBeCloseTo(10 * 0.5, 2);
  expect(trendOf(stretch).deviation).toBeCloseTo(10 * 0.118, 2);
});

it('keeps its figures far from zero, where sums of squares would lose them', () => {
  const far = [0, 1, 2, 3].reduce<ReturnType<typeof beginStretch> | null>(
    (so, at) => (so === null ? beginStretch(at, 1e9) : extendStretch(so, at, 1e9 + at)),
    null,
  );
  // Deviation of 0, 1, 2, 3: the root of 5/3.
  expect(far === null ? NaN : deviationOf(far)).toBeCloseTo(Math.sqrt(5 / 3), 9);
});

it('one reading has no spread and no line', () => {
  expect(deviationOf(beginStretch(0, 5))).toBe(0);
  expect(trendOf(beginStretch(0, 5))).toEqual({ change: 0, deviation: Infinity });
});
