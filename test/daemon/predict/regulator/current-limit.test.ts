import { expect, test } from 'vitest';
import { currentLimit, limitedVolts } from '../../../../daemon/predict/regulator/current-limit.js';

// LM317 datasheet SLVS044Z: typically 2.2 A up to 15 V input-output, 0.4 A at 40 V.
const lm317 = [
  { difference: 15, amps: 2.2 },
  { difference: 40, amps: 0.4 },
];

test('is the published one at the published differences, and falls between', () => {
  expect(currentLimit(lm317, 3)).toBe(2.2);
  expect(currentLimit(lm317, 40)).toBeCloseTo(0.4, 12);
  expect(currentLimit(lm317, 27.5)).toBeCloseTo(1.3, 12);
  expect(currentLimit(lm317, 60)).toBe(0.4);
});

test('a load within the limit gets the set volts', () => {
  expect(limitedVolts(lm317, 12, 18, 10)).toBe(12);
});

// Ohm's law: a flat limit of 2.2 A into 4 ohm stands at 8.8 V.
test('an overload sinks to limit times resistance', () => {
  expect(limitedVolts(lm317, 12, 18, 4)).toBeCloseTo(8.8, 9);
});

test('no published limit is no limit', () => {
  expect(currentLimit([], 10)).toBe(Infinity);
});
