import { describe, expect, it } from 'vitest';
import { periodLikeness } from '../../../../daemon/watch/ripple/likeness.js';
import { normalNoise } from '../random.js';

const STEP_SECONDS = 1e-4;

function likeness(volts: (seconds: number) => number, hertz = 50): number {
  const values = Float64Array.from({ length: 1200 }, (_, i) => volts((i - 599.5) * STEP_SECONDS));
  const mains = { hertz, deviation: 0, drift: 0, ratio: 100 };
  return periodLikeness({ values, stepSeconds: STEP_SECONDS }, mains);
}

describe('likeness of the mains periods', () => {
  it('is 1 for what repeats', () => {
    expect(likeness((t) => Math.sin(2 * Math.PI * 100 * t))).toBeCloseTo(1, 2);
    expect(likeness((t) => Math.abs(Math.sin(2 * Math.PI * 50 * t)))).toBeCloseTo(1, 2);
  });

  it('is -1 for what comes every other period the other way round', () => {
    expect(likeness((t) => Math.sin(2 * Math.PI * 25 * t))).toBeCloseTo(-1, 1);
  });

  it('is far from 1 for noise (seed 9)', () => {
    const normal = normalNoise(9);
    expect(likeness(() => normal())).toBeLessThan(0.7);
  });
});
