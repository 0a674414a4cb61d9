import { describe, expect, it } from 'vitest';
import { railMean, railRipple, rejectionAt, settingVolts } from '../../../daemon/predict/rail-volts.js';

describe('settingVolts', () => {
  // TI LM317 SLVS044Z: VO = Vref (1 + R2/R1) + Iadj R2; the window of Vref is 1.2 to 1.3 V, Iadj 50 to 100 uA.
  it.each([
    [1.25, 50e-6, 5.036],
    [1.2, 50e-6, 4.836],
    [1.3, 100e-6, 5.272],
  ])('R1 240, R2 720 at Vref %d V', (volts, adjustAmps, expected) => {
    expect(settingVolts({ volts, divider: { r1: 240, r2: 720, adjustAmps } })).toBeCloseTo(expected, 6);
  });

  it('a fixed regulator is set to its output', () => {
    expect(settingVolts({ volts: 5.2 })).toBe(5.2);
  });
});

describe('a rail under a rippling input', () => {
  it('holds its setting while the valley suffices', () => {
    expect(railMean(12, 15.1, 17, 3)).toBe(12);
    // 1 V by 60 dB is 1 mV.
    expect(railRipple(12, { valley: 16, peak: 17, ripple: 1 }, 3, 60)).toBeCloseTo(0.001, 9);
  });

  it('follows its input less the dropout when that never suffices', () => {
    expect(railMean(12, 12, 14, 3)).toBeCloseTo(10, 12);
    expect(railRipple(12, { valley: 12, peak: 14, ripple: 2 }, 3, 200)).toBeCloseTo(2, 6);
  });

  it('clips the dips in between', () => {
    // Input less dropout climbs evenly from 11 to 13 V: half the time at 11.5 V on average, half at 12 V.
    expect(railMean(12, 14, 16, 3)).toBeCloseTo(11.75, 12);
    expect(railRipple(12, { valley: 14, peak: 16, ripple: 2 }, 3, 200)).toBeCloseTo(1, 6);
  });

  it('never goes below nothing', () => {
    expect(railMean(12, 0, 1, 3)).toBe(0);
    expect(railRipple(12, { valley: 0, peak: 1, ripple: 1 }, 3, 200)).toBeCloseTo(0, 6);
  });
});

describe('rejectionAt', () => {
  // Twice the output volts multiply the reference's ripple by two: 20 log 2 = 6.02 dB.
  it('falls by 6 dB for twice the volts', () => {
    expect(rejectionAt(20, 65, 10)).toBeCloseTo(58.98, 2);
    expect(rejectionAt(10, 65, 10)).toBe(65);
  });
});
