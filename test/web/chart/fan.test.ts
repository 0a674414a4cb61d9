import { describe, expect, it } from 'vitest';
import { fanOf } from '../../../web/chart/fan.js';
import { POINTS } from '../signal-cabin.js';

const point = {
  ...POINTS.find(({ id }) => id === 'logic.case')!,
  value: 40,
  atMs: 100_000,
  settles: { low: 120, typical: 130, high: 143 },
  settlesWithin: { low: 80, typical: 100, high: 130 },
};

describe('the fan', () => {
  it('after one time constant has done 63.2 % of the way, after five nearly all of it', () => {
    const fan = fanOf(point);
    // 1 - 1/e (Incropera, lumped capacitance): 40 + 0.632 x 90 = 96.9 degrees C.
    expect(fan?.at(200_000).typical).toBeCloseTo(96.9, 1);
    expect(fan?.at(600_000).typical).toBeGreaterThan(129);
  });

  it('begins at the reading and opens to where it may settle', () => {
    const fan = fanOf(point);
    expect(fan?.at(100_000)).toEqual({ low: 40, typical: 40, high: 40 });
    const late = fan?.at(10_000_000);
    expect(late?.low).toBeCloseTo(120, 3);
    expect(late?.high).toBeCloseTo(143, 3);
  });

  it('holds its middle between its edges on the way, warming and cooling', () => {
    for (const value of [40, 180]) {
      const fan = fanOf({ ...point, value });
      for (let atMs = 100_000; atMs < 500_000; atMs += 10_000) {
        const { low, typical, high } = fan!.at(atMs);
        expect(low).toBeLessThanOrEqual(typical);
        expect(high).toBeGreaterThanOrEqual(typical);
      }
    }
  });

  it('is none without a forecast, without a value and of a stale one', () => {
    expect(fanOf(POINTS[1]!)).toBeNull();
    expect(fanOf({ ...point, value: null })).toBeNull();
    expect(fanOf({ ...point, stale: true })).toBeNull();
  });
});
