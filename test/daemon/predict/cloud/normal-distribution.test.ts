import { expect, it } from 'vitest';
import { normalCumulative } from '../../../../daemon/predict/cloud/normal-distribution.js';

// Phi(z) from the printed tables of the normal distribution (Abramowitz & Stegun, table 26.1).
it.each([
  [0, 0.5],
  [0.5, 0.69146246],
  [1, 0.84134475],
  [1.96, 0.9750021],
  [2, 0.97724987],
  [3, 0.9986501],
  [-1, 0.15865525],
  [-3, 0.0013499],
])('Phi(%d) is %d within the formula’s 7.5e-8', (z, expected) => {
  expect(Math.abs(normalCumulative(z) - expected)).toBeLessThan(8.5e-8);
});
