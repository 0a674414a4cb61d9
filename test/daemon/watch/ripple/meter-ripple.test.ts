import { describe, expect, it } from 'vitest';
import { rippleFromReading } from '../../../../daemon/watch/ripple/meter-ripple.js';

const STEPS = 200_000;

/** What both kinds of meter show of one period, by their definitions, summed over small steps. */
function readings(volts: (turn: number) => number): { rms: number; average: number; mean: number } {
  const period = Float64Array.from({ length: STEPS }, (_, i) => volts((i + 0.5) / STEPS));
  const mean = period.reduce((sum, v) => sum + v, 0) / STEPS;
  const rms = Math.sqrt(period.reduce((sum, v) => sum + (v - mean) ** 2, 0) / STEPS);
  const rectified = period.reduce((sum, v) => sum + Math.abs(v - mean), 0) / STEPS;
  // Form factor of a sine, 1.1107: any handbook of electrical measurement.
  return { rms, average: 1.1107207 * rectified, mean };
}

describe('ripple from a meter’s AC reading', () => {
  it('multiplies a saw-tooth’s RMS by 2·√3 = 3.464 (handbooks of power supplies)', () => {
    expect(rippleFromReading(0.1, 'true-rms', { kind: 'sawtooth' }).peakToPeak).toBeCloseTo(0.34641, 5);
  });

  it.each([0.02, 0.3, 0.5])('finds a saw-tooth that rises during %f of its period', (rise) => {
    const { rms, average } = readings((t) => (t < rise ? t / rise : (1 - t) / (1 - rise)));
    expect(rippleFromReading(rms, 'true-rms', { kind: 'sawtooth' }).peakToPeak).toBeCloseTo(1, 4);
    expect(rippleFromReading(average, 'average-responding', { kind: 'sawtooth' }).peakToPeak).toBeCloseTo(
      1,
      4,
    );
  });

  it('finds a sine on both kinds of meter', () => {
    const { rms, average } = readings((t) => 0.5 * Math.sin(2 * Math.PI * t));
    expect(rippleFromReading(rms, 'true-rms', { kind: 'sine' }).peakToPeak).toBeCloseTo(1, 5);
    expect(rippleFromReading(average, 'average-responding', { kind: 'sine' }).peakToPeak).toBeCloseTo(1, 5);
  });

  it.each([0.999, 0.95, 0.8, 0.5, 0.1])('finds an exponential whose valley is %f of its peak', (valley) => {
    const { rms, average, mean } = readings((t) => 20 * valley ** t);
    const shape = { kind: 'exponential', meanVolts: mean } as const;
    const expected = 20 * (1 - valley);
    expect(rippleFromReading(rms, 'true-rms', shape).peakToPeak / expected).toBeCloseTo(1, 4);
    expect(rippleFromReading(average, 'average-responding', shape).peakToPeak / expected).toBeCloseTo(1, 4);
  });

  // Form factors of a textbook (Lessons in Electric Circuits, Kuphaldt): sine 1.11, triangle and saw-tooth 1.15. A meter
  // that takes the rectified mean for a sine's shows 1.11 / 1.15 of a saw-tooth's RMS: pi·sqrt(3) / (4·sqrt(2)) = 0.96191.
  it.each([0.1, 1.3, 4.01])(
    'corrects what an average-responding meter shows of a saw-tooth of %f Vpp',
    (peakToPeak) => {
      const rms = peakToPeak / (2 * Math.sqrt(3));
      const shown = 0.96191 * rms;
      const told = rippleFromReading(shown, 'average-responding', { kind: 'sawtooth' });
      expect(told.peakToPeak / peakToPeak).toBeCloseTo(1, 5);
      expect(Math.abs((1.11 / 1.15) * rms - shown)).toBeLessThan(0.005 * rms);
      // Taken for true RMS, the same reading is 3.8 % low.
      const asRms = rippleFromReading(shown, 'true-rms', { kind: 'sawtooth' });
      expect(asRms.peakToPeak / peakToPeak).toBeCloseTo(0.96191, 5);
    },
  );

  it('takes 0.375 V RMS for a saw-tooth of 1.3 Vpp (a textbook’s formula; exactly 0.37528)', () => {
    expect(rippleFromReading(0.37528, 'true-rms', { kind: 'sawtooth' }).peakToPeak).toBeCloseTo(1.3, 4);
  });

  it('says what it took the ripple and the meter for, and the formula', () => {
    const told = rippleFromReading(0.1, 'average-responding', { kind: 'sawtooth' });
    expect(told).toMatchObject({ meter: 'average-responding', shape: { kind: 'sawtooth' } });
    expect(told.formula).toContain('Vpp = 4·V / 1.111');
  });

  it('gives 0 V for 0 V', () => {
    expect(rippleFromReading(0, 'true-rms', { kind: 'sawtooth' }).peakToPeak).toBe(0);
    expect(rippleFromReading(0, 'true-rms', { kind: 'exponential', meanVolts: 12 }).peakToPeak).toBeCloseTo(
      0,
      9,
    );
  });

  it('refuses what is no voltage, naming it', () => {
    expect(() => rippleFromReading(-1, 'true-rms', { kind: 'sine' })).toThrow(/^reading: -1 V/);
    expect(() => rippleFromReading(NaN, 'true-rms', { kind: 'sine' })).toThrow(RangeError);
    expect(() => rippleFromReading(1, 'true-rms', { kind: 'exponential', meanVolts: 0 })).toThrow(
      /^mean: 0 V/,
    );
    expect(() => rippleFromReading(90, 'true-rms', { kind: 'exponential', meanVolts: 12 })).toThrow(
      /^reading: 90 V of ripple is more than a rail of 12 V/,
    );
  });
});
