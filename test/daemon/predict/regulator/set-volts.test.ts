import { expect, test } from 'vitest';
import { adjustResistor, adjustableVolts } from '../../../../daemon/predict/regulator/set-volts.js';

const lm317 = { referenceVolts: 1.25, adjustAmps: 50e-6, r1: 240 };

// Vref(1 + R2/R1) + Iadj·R2 with Vref 1.25 V, Iadj 50 µA, R1 240 ohm (LM317 datasheet SLVS044Z), worked by hand.
test.each([
  [720, 5.036],
  [2050, 12.0296],
  [0, 1.25],
])('R2 of %d ohm gives %d V', (r2, volts) => {
  expect(adjustableVolts({ ...lm317, r2 })).toBeCloseTo(volts, 4);
});

// From a remote-sense note of the LM117 datasheet: for exactly 15 V, 1 + R2/R1 is 12.0 without the adjust current.
test('the resistor for 15 V makes twelve times the reference', () => {
  const r2 = adjustResistor(15, { ...lm317, adjustAmps: 0 });
  expect(1 + r2 / 240).toBeCloseTo(12, 9);
});
