import { expect, test } from 'vitest';
import {
  allowedResistance,
  caseLimit,
  junctionFromCase,
  neededHeatsink,
} from '../../../../daemon/predict/thermal/junction.js';

// TPS758xx datasheet SLVS330D: 2.4 W, air 55 °C, junction 125 °C: at most 29 K/W (exact 29.17).
// TPS725xx datasheet SLVS341E: 0.8 W, same temperatures: 87.5 K/W.
test.each([
  [2.4, 29.17],
  [0.8, 87.5],
])('%d W allow %d K/W from junction to air', (watts, resistance) => {
  expect(allowedResistance(125, 55, watts)).toBeCloseTo(resistance, 2);
});

// Lecture slides: 5 W, junction 150 °C, air 50 °C, 3.0 K/W inside and 1 K/W of compound: sink under 16 K/W.
test('5 W at 4 K/W before the sink need 16 K/W', () => {
  expect(neededHeatsink(150, 50, 5, 3, 1)).toBeCloseTo(16, 12);
});

// TS2940 datasheet p.4: (3.3 − 2.5) V × 1 A + 3.3 V × 11 mA = 836 mW; at 125 °C and 25 °C that allows 119.6 K/W.
test('ground current counts', () => {
  expect(allowedResistance(125, 25, 0.8 * 1 + 3.3 * 0.011)).toBeCloseTo(119.57, 2);
});

test('no heat needs no heatsink, too much can’t be helped by one', () => {
  expect(neededHeatsink(125, 40, 0, 5, 1)).toBe(Infinity);
  expect(neededHeatsink(125, 40, 20, 5, 1)).toBeLessThan(0);
});

// Difference by P·R, the definition of thermal resistance.
test('junction and case limit are each other’s mirror', () => {
  expect(junctionFromCase(90, 2, 5)).toBe(100);
  expect(caseLimit(125, 2, 5)).toBe(115);
});
