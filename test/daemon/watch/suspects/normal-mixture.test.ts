import { describe, expect, it } from 'vitest';
import {
  logOfSum,
  mixtureLogDensity,
  mixtureQuantile,
  normalLogDensity,
} from '../../../../daemon/watch/suspects/normal-mixture.js';

describe('mixtures of normal distributions', () => {
  // Abramowitz and Stegun, table 26.1 and 26.2: density 0.39894 in the middle, 95 % within 1.95996.
  it('one part alone is a normal distribution', () => {
    const standard = [{ share: 3, mean: 0, variance: 1 }];
    expect(mixtureQuantile(standard, 0.975)).toBeCloseTo(1.95996, 4);
    expect(mixtureQuantile(standard, 0.5)).toBeCloseTo(0, 9);
    expect(Math.exp(mixtureLogDensity(standard, 0))).toBeCloseTo(0.39894, 5);
  });

  it('a quantile lies where the shares put it', () => {
    const far = [
      { share: 1, mean: 0, variance: 1 },
      { share: 3, mean: 100, variance: 4 },
    ];
    // A quarter lies about 0; the median is the third of the second part: its normal quantile is -0.43073 (same table).
    expect(mixtureQuantile(far, 0.5)).toBeCloseTo(100 - 2 * 0.43073, 4);
    expect(mixtureQuantile(far, 0.125)).toBeCloseTo(0, 5);
  });

  it('a value without spread is its own quantile', () => {
    expect(mixtureQuantile([{ share: 1, mean: 7, variance: 0 }], 0.3)).toBeCloseTo(7, 9);
  });

  it('the density stays a number however far off', () => {
    expect(mixtureLogDensity([{ share: 1, mean: 0, variance: 1 }], 1e6)).toBeCloseTo(
      normalLogDensity(1e6, 1),
      3,
    );
    expect(logOfSum([-1e6, -1e6])).toBeCloseTo(-1e6 + Math.LN2, 6);
  });
});
