import { describe, expect, it } from 'vitest';
import {
  halfOfCentreTapped,
  sourceFromRating,
} from '../../../../daemon/predict/rectifier/series-resistance.js';

describe('winding source', () => {
  it('gives the rated volts back at the rated current (definition of regulation, IEC 60076-1)', () => {
    const { emfPeak, seriesResistance } = sourceFromRating({
      ratedVolts: 15,
      ratedCurrent: 2,
      regulation: 0.12,
    });
    expect(emfPeak / Math.SQRT2 - 2 * seriesResistance).toBeCloseTo(15, 12);
    expect(seriesResistance).toBeCloseTo(0.9, 12);
  });

  it('one half of a centre-tapped winding: half the volts, half the copper, a quarter of the primary', () => {
    const whole = { ratedVolts: 24, ratedCurrent: 1, regulation: 0.1 };
    const half = halfOfCentreTapped(whole);
    // 2.4 ohm end to end: 1.2 in the secondary, 1.2 from the primary.
    expect(half.seriesResistance).toBeCloseTo(1.2 / 2 + 1.2 / 4, 12);
    expect(half.emfPeak).toBeCloseTo(sourceFromRating(whole).emfPeak / 2, 12);
  });
});
