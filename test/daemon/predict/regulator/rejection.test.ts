import { expect, test } from 'vitest';
import { adjustableRejection, rippleShare } from '../../../../daemon/predict/regulator/rejection.js';

// LM317 datasheets of ST (Rev 19) and National (DS009063): at 10 V and 120 Hz 65 dB, with 10 µF typically 80 dB.
const lm317 = { plain_dB: 65, withCapacitor_dB: 80, atOutputVolts: 10, referenceVolts: 1.25 };
const tenVolts = { r1: 240, r2: 1680, capacitance: 0 };

test('at the published output it is the published figure', () => {
  expect(adjustableRejection(lm317, tenVolts, 120)).toBeCloseTo(65, 9);
});

// Common practice: without the capacitor ripple grows with Vout/Vref; half the output volts gain 6.02 dB.
test('gains 6 dB at half the output volts', () => {
  expect(adjustableRejection(lm317, { ...tenVolts, r2: 720 }, 120)).toBeCloseTo(65 + 20 * Math.log10(2), 9);
});

test('10 µF from adjust to ground bring it to the figure published with them, within 3 dB', () => {
  const lifted = adjustableRejection(
    { ...lm317, withCapacitor_dB: 99 },
    { ...tenVolts, capacitance: 10e-6 },
    120,
  );
  expect(Math.abs(lifted - 80)).toBeLessThan(3);
});

test('and never promise more than is published', () => {
  expect(adjustableRejection(lm317, { ...tenVolts, capacitance: 1e-3 }, 120)).toBe(80);
});

// Decibel by definition: 60 dB is a thousandth of the voltage.
test('60 dB pass a thousandth', () => {
  expect(rippleShare(60)).toBeCloseTo(0.001, 12);
});
