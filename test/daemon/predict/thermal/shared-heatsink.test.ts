import { expect, test } from 'vitest';
import { steadyShared } from '../../../../daemon/predict/thermal/shared-heatsink.js';

const to220 = [
  { name: 'junction', capacity: 0.05, resistance: 5 },
  { name: 'case', capacity: 2, resistance: 1 },
];

// By hand: 5 W through convection of 0.0625 W/K^1.25 make 80^0.8 = 33.30 K; each part adds 6 K/W of its own heat.
test('two regulators on one heatsink in still air', () => {
  const rest = steadyShared([to220, to220], { conduction: 0, convection: 0.0625, radiation: 0 }, [3, 2], 25);
  expect(rest.heatsink).toBeCloseTo(58.3, 1);
  expect(rest.parts[0]![0]! - rest.heatsink).toBeCloseTo(18, 9);
  expect(rest.parts[1]![1]! - rest.heatsink).toBeCloseTo(2, 9);
});
