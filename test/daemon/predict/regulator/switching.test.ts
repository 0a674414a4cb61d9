import { expect, test } from 'vitest';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import { emptyRailFigures } from '../../../../daemon/predict/regulator/rail.js';
import { efficiencyAt, solveSwitchingRail } from '../../../../daemon/predict/regulator/switching.js';

const module = {
  setVolts: 5,
  dropoutVolts: 1.5,
  feedthrough: 0.001,
  efficiency: [
    { amps: 0.1, share: 0.7 },
    { amps: 0.5, share: 0.9 },
  ],
  idleAmps: 0,
};

// Definition of efficiency: 5 V × 0.5 A / 0.9 = 2.778 W taken, 0.278 W of heat; at a mean of 12 V 0.2315 A.
test('draws its output power over its efficiency', () => {
  const figures = emptyRailFigures();
  const input = evenWaveform(Float64Array.from([11, 12, 13, 12]), 0.01);
  solveSwitchingRail(input, module, 0.5, new Float64Array(4), figures);
  expect(figures.inputAmps).toBeCloseTo(0.2315, 4);
  expect(figures.dissipation).toBeCloseTo(0.2778, 4);
});

test('the efficiency is straight between points and flat beyond', () => {
  expect(efficiencyAt(module.efficiency, 0.3)).toBeCloseTo(0.8, 12);
  expect(efficiencyAt(module.efficiency, 0.01)).toBe(0.7);
  expect(efficiencyAt(module.efficiency, 2)).toBe(0.9);
});

test('a percentage for a share is refused', () => {
  expect(() => efficiencyAt([{ amps: 1, share: 90 }], 1)).toThrow('each share above 0 and at most 1');
});
