import { describe, expect, it } from 'vitest';
import { polynomial, polynomialSlope } from '../../../drivers/sensors/polynomial.js';

// 2 + 3x - x^3 and its derivative 3 - 3x^2, by hand.
const CUBIC = [2, 3, 0, -1];

describe('polynomial', () => {
  it.each([
    [0, 2, 3],
    [1, 4, 0],
    [2, 0, -9],
    [-3, 20, -24],
  ])('at %d is %d with slope %d', (x, value, slope) => {
    expect(polynomial(CUBIC, x)).toBe(value);
    expect(polynomialSlope(CUBIC, x)).toBe(slope);
  });
});
