import { describe, expect, it } from 'vitest';
import { E12, E24, E96, nearestInSeries } from '../../../../daemon/design/parts/series.js';

describe('preferred values (IEC 60063)', () => {
  it('have 12, 24 and 96 values that rise', () => {
    expect([E12.length, E24.length, E96.length]).toEqual([12, 24, 96]);
    for (const series of [E12, E24, E96]) expect([...series].sort((a, b) => a - b)).toEqual([...series]);
  });

  it('E12 is every second value of E24', () => {
    expect(E24.filter((_, index) => index % 2 === 0)).toEqual([...E12]);
  });

  // IEC 60063: the values of E96 are the geometric steps rounded to three figures.
  it('E96 follows the rule that the standard made it by', () => {
    expect([...E96]).toEqual(
      Array.from({ length: 96 }, (_, index) => Number((10 ** (index / 96)).toFixed(2))),
    );
  });

  it.each([
    [737, E24, 750],
    [2049, E96, 2050],
    [9.9, E12, 10],
    [0.00047, E12, 0.00047],
  ])('nearest to %d', (value, series, nearest) => {
    expect(nearestInSeries(value, series)).toBe(nearest);
  });

  it('refuses what has no logarithm', () => {
    expect(() => nearestInSeries(0, E12)).toThrow(
      'no preferred value lies near 0; a positive number is needed',
    );
  });
});
