import { expect, test } from 'vitest';
import { checkMinimumLoad } from '../../../../daemon/predict/regulator/minimum-load.js';

// LM317: 10 mA at most; 1.25 V over R1 240 ohm are 5.2 mA (datasheet figures), so 4.8 mA are missing at no load.
test('R1 of 240 ohm alone isn’t enough for the worst LM317', () => {
  const check = checkMinimumLoad(0.01, 12, 0, { referenceVolts: 1.25, r1: 240 });
  expect(check.shortfallAmps).toBeCloseTo(0.00479, 5);
  expect(check.bleedOhms).toBeCloseTo(12 / 0.0047917, 0);
});

// 78xx: 5 mA for regulation (note under the ST table).
test('a fixed one counts its load alone', () => {
  expect(checkMinimumLoad(0.005, 5, 0.004).shortfallAmps).toBeCloseTo(0.001, 12);
  expect(checkMinimumLoad(0.005, 5, 0.02)).toEqual({
    drawnAmps: 0.02,
    shortfallAmps: 0,
    bleedOhms: Infinity,
  });
});
