import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scaled, scaledAmount, unscaled } from '../../../../daemon/watch/suspects/scale.js';

const spreads = fc.double({ min: 1e-3, max: 100, noNaN: true });
const values = fc.double({ min: -500, max: 500, noNaN: true });

describe('the scale of a point (seed 3)', () => {
  it('a value comes back from it', () => {
    fc.assert(
      fc.property(values, values, spreads, (value, middle, spread) => {
        const scale = { middle, spread };
        expect(unscaled(scaled(value, scale), scale)).toBeCloseTo(value, 6);
      }),
      { seed: 3 },
    );
  });

  it('the middle is 0, and near it one spread is about 1', () => {
    const scale = { middle: 5, spread: 0.1 };
    expect(scaled(5, scale)).toBe(0);
    expect(scaled(5.1, scale)).toBeCloseTo(1, 1);
  });

  it('a small amount is as large on it as the difference that it makes', () => {
    fc.assert(
      fc.property(values, values, spreads, (value, middle, spread) => {
        const scale = { middle, spread };
        const amount = spread * 1e-4;
        const difference = scaled(value + amount / 2, scale) - scaled(value - amount / 2, scale);
        expect(scaledAmount(amount, value, scale) / difference).toBeCloseTo(1, 2);
      }),
      { seed: 3 },
    );
  });
});
