import { expect, test } from 'vitest';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import { emptyRailFigures, solveRail } from '../../../../daemon/predict/regulator/rail.js';
import { zenerOperatingPoint, zenerRail } from '../../../../daemon/predict/regulator/zener-follower.js';

const part = {
  zenerVolts: 5.6,
  zenerTestAmps: 0.02,
  zenerResistance: 10,
  resistance: 470,
  beta: 99,
  baseEmitterVolts: 0.65,
  saturationVolts: 0.2,
};

// Kirchhoff by hand: 15.2 V − 5.6 V over 480 ohm (zener as 5.4 V + 10 ohm): (15.2 − 5.4)/480 = 20.417 mA at no load.
test('at no load the resistor’s current is the zener’s', () => {
  const point = zenerOperatingPoint(part, 0, 15.2);
  expect(point.zenerAmps).toBeCloseTo(0.0204167, 6);
  expect(point.zenerDissipation).toBeCloseTo((5.4 + 0.204167) * 0.0204167, 5);
});

// Kirchhoff: 10 mA of base current divide between 470 ohm and the zener's 10 ohm, which loses 470/480 of them.
test('the base current comes out of the zener', () => {
  const point = zenerOperatingPoint(part, 1, 15.2);
  const idle = zenerOperatingPoint(part, 0, 15.2);
  expect(idle.zenerAmps - point.zenerAmps).toBeCloseTo((0.01 * 470) / 480, 9);
});

test('leaves of the ripple what zener and resistor divide', () => {
  const input = evenWaveform(Float64Array.from([15, 16, 17, 16]), 0.01);
  const figures = emptyRailFigures();
  solveRail(input, zenerRail(part, 0.1, 16), 0.1, new Float64Array(4), figures);
  expect(figures.ripplePeakToPeak).toBeCloseTo((2 * 10) / 480, 9);
  expect(figures.meanVolts).toBeGreaterThan(4.8);
  expect(figures.meanVolts).toBeLessThan(5.1);
});

// 470 ohm carry at most (6 − 5.65)/470: below the base current of 1 A the zener is out and the base hangs on R.
test('says that the zener is out when the resistor can’t feed the base', () => {
  expect(zenerOperatingPoint(part, 1, 6).zenerAmps).toBeCloseTo(0, 12);
  expect(zenerRail(part, 1, 6).dropoutVolts).toBeCloseTo(4.7 + 0.65, 9);
});
