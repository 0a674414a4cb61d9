import { expect, test } from 'vitest';
import { emptyRailFigures } from '../../../../daemon/predict/regulator/rail.js';
import { givenRail } from '../../../../daemon/predict/regulator/given.js';

// Sawtooth of 1.3 Vpp: 0.375 Vrms (printed example).
test('a given rail is what the person says it is', () => {
  const figures = emptyRailFigures();
  const output = new Float64Array(2);
  givenRail(9, 1.3, 0.25, output, figures);
  expect([...output]).toEqual([9, 9]);
  expect(figures.valleyVolts).toBeCloseTo(8.35, 12);
  expect(figures.rippleRms).toBeCloseTo(0.375, 3);
  expect(figures.inputAmps).toBe(0.25);
});
