import { describe, expect, it } from 'vitest';
import { offDelay, readingsIn, readingsNeeded } from '../../../daemon/watch/delay.js';

const noise = (deviation: number, intervalMs: number) => ({
  // d2 = 1.128 of the control-chart tables for two readings.
  meanStep: 1.128 * deviation,
  resolution: 0,
  intervalMs,
});

describe('readings that noise alone would give once a day', () => {
  // Tables of the normal distribution: Q(0) = 0.5, Q(1) = 0.15866, Q(2) = 0.02275, Q(3) = 0.0013499, Q(5) = 2.87e-7.
  // 86,400 readings a day: p^n <= 1 / 86400, worked out by hand: n >= ln 86400 / -ln p = 11.367 / -ln p.
  it.each([
    [0, 17],
    [1, 7],
    [2, 4],
    [3, 2],
    [5, 1],
  ])('at %d deviations beyond the edge: %d of one a second', (deviations, readings) => {
    expect(readingsNeeded(0.01 * deviations, noise(0.01, 1000), 100)).toBe(readings);
  });

  it('ten readings a second need more of them, and are still sooner', () => {
    // ln 864000 / ln 2 = 19.7
    expect(readingsNeeded(0, noise(0.01, 100), 100)).toBe(20);
  });

  it('never more than one can wait for', () => {
    expect(readingsNeeded(0, noise(0.01, 1000), 4)).toBe(4);
  });

  it('a channel without noise is as fine as its display: rounding has step / √12 (JCGM 100, 4.3.7)', () => {
    const still = { meanStep: 0, resolution: 0.1, intervalMs: 1000 };
    expect(readingsNeeded(0.2, still, 100)).toBe(1);
    expect(readingsNeeded(0.0289, still, 100)).toBe(7);
  });

  it('two while nothing is known of the noise', () => {
    expect(readingsNeeded(1, { meanStep: null, resolution: 0, intervalMs: 1000 }, 100)).toBe(2);
  });

  it('as many as fit into a time, two at least', () => {
    expect([readingsIn(1000, 100), readingsIn(1000, 1000), readingsIn(1000, 5000)]).toEqual([11, 2, 2]);
  });
});

it('a condition is clear after three readings, and after as long as silence takes to be told', () => {
  expect(offDelay(100)).toEqual({ readings: 3, ms: 3000 });
  expect(offDelay(5000)).toEqual({ readings: 3, ms: 15_000 });
});
