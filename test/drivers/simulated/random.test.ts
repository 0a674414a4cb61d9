import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../drivers/simulated/random.js';

function draws(seed: number, count: number, kind: 'uniform' | 'normal'): number[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => random[kind]());
}

describe('seeded random numbers', () => {
  it('repeat for a seed and differ between seeds', () => {
    expect(draws(1, 10, 'uniform')).toEqual(draws(1, 10, 'uniform'));
    expect(draws(1, 10, 'uniform')).not.toEqual(draws(2, 10, 'uniform'));
  });

  it('spread evenly over 0 to 1 (seed 4)', () => {
    const values = draws(4, 10_000, 'uniform');
    expect(Math.min(...values)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...values)).toBeLessThan(1);
    // Mean of an even spread: 0.5, its standard error 0.29 / 100.
    expect(values.reduce((sum, value) => sum + value, 0) / values.length).toBeCloseTo(0.5, 1);
  });

  it('the normal ones have mean 0, and 68 % lie within one (seed 4)', () => {
    const values = draws(4, 10_000, 'normal');
    expect(Math.abs(values.reduce((sum, value) => sum + value, 0) / values.length)).toBeLessThan(0.05);
    expect(values.filter((value) => Math.abs(value) < 1).length / values.length).toBeCloseTo(0.683, 1);
  });
});
