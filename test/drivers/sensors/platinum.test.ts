import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { platinumOhms, platinumTemperature } from '../../../drivers/sensors/platinum.js';

// -40 to 200: a printed Pt100 table to IEC 60751, in steps of 0.01 ohm. 25, 85, 125: tables print 109.73, 132.80,
// 147.95 (from memory); four decimals computed from the standard's A and B.
const PRINTED = [
  [-40, 84.27, 0.005],
  [0, 100, 0.005],
  [50, 119.4, 0.005],
  [100, 138.51, 0.005],
  [150, 157.33, 0.005],
  [200, 175.86, 0.005],
  [25, 109.7347, 0.00005],
  [85, 132.8033, 0.00005],
  [125, 147.9514, 0.00005],
] as const;
const LEAST_SLOPE = 0.36; // ohm/K between -40 and 200 degrees C, from the same table

describe('platinum resistors by IEC 60751', () => {
  it.each(PRINTED)('a Pt100 at %d degrees C has %d ohm', (temperature, ohms, rounding) => {
    expect(Math.abs((platinumOhms(100, temperature) ?? NaN) - ohms)).toBeLessThan(rounding);
    expect(Math.abs((platinumOhms(1000, temperature) ?? NaN) - 10 * ohms)).toBeLessThan(10 * rounding);
  });

  it.each(PRINTED)('at %d degrees C is what has %d ohm', (temperature, ohms, rounding) => {
    const allowed = rounding / LEAST_SLOPE;
    expect(Math.abs((platinumTemperature(100, ohms) ?? NaN) - temperature)).toBeLessThan(allowed);
    expect(Math.abs((platinumTemperature(1000, 10 * ohms) ?? NaN) - temperature)).toBeLessThan(allowed);
  });

  it('takes the leads off', () => {
    expect(platinumTemperature(100, 138.51 + 0.4, 0.4)).toBeCloseTo(100, 1);
  });

  it('comes back within a microkelvin over the whole range (seed 751)', () => {
    fc.assert(
      fc.property(fc.double({ min: -199.999, max: 849.999, noNaN: true }), (temperature) => {
        const back = platinumTemperature(100, platinumOhms(100, temperature) ?? NaN) ?? NaN;
        expect(Math.abs(back - temperature)).toBeLessThan(1e-6);
      }),
      { seed: 751 },
    );
  });

  // IEC 60751 is defined from -200 to 850 degrees C; printed tables end at 18.52 and 390.48 ohm (from memory).
  it('has no answer outside the range of the standard', () => {
    expect(platinumOhms(100, -200.01)).toBeNull();
    expect(platinumOhms(100, 850.01)).toBeNull();
    for (const ohms of [18.51, 390.49, 0, -1, Infinity, NaN])
      expect(platinumTemperature(100, ohms)).toBeNull();
    expect(platinumTemperature(100, 18.53)).toBeCloseTo(-200, 0);
    expect(platinumTemperature(100, 390.48)).toBeCloseTo(850, 0);
  });
});
