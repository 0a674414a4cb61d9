import { describe, expect, it } from 'vitest';
import { deadband, nextMeanStep, noiseDeviation } from '../../../daemon/watch/noise.js';
import { normalNoise } from './random.js';

function meanStepOf(values: readonly number[], resolution = 0): number | null {
  let meanStep: number | null = null;
  let previous: number | null = null;
  for (const value of values) {
    meanStep = nextMeanStep(meanStep, previous, value, resolution);
    previous = value;
  }
  return meanStep;
}

describe('noise from the steps between readings', () => {
  it('finds the deviation of normal noise on average (seed 7)', () => {
    const noise = normalNoise(7);
    const estimates = Array.from({ length: 50 }, () =>
      noiseDeviation(meanStepOf(Array.from({ length: 200 }, () => 5 + 0.02 * noise())) ?? NaN),
    );
    const mean = estimates.reduce((sum, one) => sum + one, 0) / estimates.length;
    // The generator's own deviation, 0.02.
    expect(mean).toBeGreaterThan(0.018);
    expect(mean).toBeLessThan(0.022);
  });

  it('is hardly moved by one step: switching on isn’t noise (seed 8)', () => {
    const noise = normalNoise(8);
    const quiet = Array.from({ length: 100 }, () => 0.5 + 0.01 * noise());
    const before = meanStepOf(quiet) ?? NaN;
    expect(meanStepOf([...quiet, 12]) ?? NaN).toBeLessThan(before * 1.5);
  });

  it('grows again within a minute of readings after an hour of stillness (seed 9)', () => {
    const noise = normalNoise(9);
    const still = Array.from({ length: 36_000 }, () => 5);
    const lively = Array.from({ length: 100 }, () => 5 + 0.05 * noise());
    expect(noiseDeviation(meanStepOf([...still, ...lively]) ?? NaN)).toBeGreaterThan(0.03);
  });

  it('is not known from one reading, and the deadband is then one step of the display', () => {
    expect(meanStepOf([5])).toBeNull();
    expect(deadband(null, 0.1)).toBe(0.1);
  });
});
