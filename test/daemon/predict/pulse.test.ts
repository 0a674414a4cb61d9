import { describe, expect, it } from 'vitest';
import { conductionAngle, pulseOf } from '../../../daemon/predict/pulse.js';

/** Full wave, wCR = 100, ideal diodes: Rs/R, Edc/Epk, Ipk/Idc, Irms/Idc, conduction in degrees. */
// Closed form cross-checked by time stepping, computed outside; stands in for Schade's curves.
const NEARLY_STEADY = [
  [0.01, 0.9368, 6.64, 2.303, 40.8],
  [0.02, 0.9031, 5.33, 2.064, 50.8],
  [0.05, 0.832, 4.03, 1.794, 67.4],
  [0.1, 0.7517, 3.3, 1.622, 82.5],
  [0.2, 0.6454, 2.75, 1.478, 99.6],
] as const;

describe('charging pulses into a large reservoir', () => {
  it.each(NEARLY_STEADY)('Rs/R %d', (share, mean, peakShare, rmsShare, degrees) => {
    // With a crest of 1 V and R of 1 ohm the current is the mean.
    const angle = conductionAngle(mean, 1, share) ?? NaN;
    const { peak, rms } = pulseOf(angle, 1, share);
    expect(Math.cos(angle)).toBeCloseTo(mean, 2);
    expect(Math.abs(peak / mean / peakShare - 1)).toBeLessThan(0.01);
    expect(Math.abs(rms / mean / rmsShare - 1)).toBeLessThan(0.01);
    expect(Math.abs((angle * 360) / Math.PI - degrees)).toBeLessThan(1);
  });

  it('says when the source cannot deliver', () => {
    // The mean of a rectified sine of 1 V into 1 ohm is 2 / pi = 0.637 A: textbook.
    expect(conductionAngle(0.63, 1, 1)).not.toBeNull();
    expect(conductionAngle(0.64, 1, 1)).toBeNull();
  });

  it('finds tiny and large angles', () => {
    for (const angle of [1e-4, 0.01, 0.5, 1.2, 1.57]) {
      const amps = (2 / Math.PI) * (Math.sin(angle) - angle * Math.cos(angle));
      expect(Math.abs((conductionAngle(amps, 1, 1) ?? NaN) / angle - 1)).toBeLessThan(1e-4);
    }
  });
});
