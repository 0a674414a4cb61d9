import { describe, expect, it } from 'vitest';
import { conditionals } from '../../../../daemon/watch/suspects/conditional.js';

/** Standard deviations 2 and 3, correlation 0.5. */
const component = {
  share: 1,
  mean: Float64Array.of(10, 20),
  covariance: Float64Array.of(4, 3, 3, 9),
};

describe('what one place is once another was measured', () => {
  // Bivariate normal (Anderson 2.5.1): mean + r s2/s1 (x - mean1), variance s2^2 (1 - r^2).
  it('follows the textbook when the reading is exact', () => {
    const [given] = conditionals(component, [{ place: 0, value: 12, doubt: 0, perUnit: 1 }], [1]);
    expect(given!.mean).toBeCloseTo(20 + 0.5 * (3 / 2) * 2, 9);
    expect(given!.variance).toBeCloseTo(9 * (1 - 0.25), 9);
  });

  it('nothing measured changes nothing, and a reading in great doubt hardly anything', () => {
    expect(conditionals(component, [], [1])).toEqual([{ mean: 20, variance: 9 }]);
    const [given] = conditionals(component, [{ place: 0, value: 12, doubt: 1e6, perUnit: 1 }], [1]);
    expect(given!.mean).toBeCloseTo(20, 6);
    expect(given!.variance).toBeCloseTo(9, 6);
  });
});
