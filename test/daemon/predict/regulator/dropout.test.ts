import { expect, test } from 'vitest';
import {
  darlingtonDropout,
  dropoutVolts,
  lowDropDropout,
} from '../../../../daemon/predict/regulator/dropout.js';

const classic = darlingtonDropout({ volts: 2, amps: 1 });

// 2 V at 1 A and 25 °C: typical of the 78xx in the ST, Fairchild and TI datasheets, and of the LM317 (curve, from memory).
test('runs through the published point', () => {
  expect(dropoutVolts(classic, 1, 25)).toBeCloseTo(2, 12);
  expect(dropoutVolts(lowDropDropout({ volts: 1.3, amps: 1.5 }), 1.5, 25)).toBeCloseTo(1.3, 12);
});

// LM317 curve, from memory: up to about 2.5 V at 1.5 A cold (−55 °C).
test('grows to about 2.5 V at 1.5 A in the cold', () => {
  expect(Math.abs(dropoutVolts(classic, 1.5, -55) - 2.5)).toBeLessThan(0.05);
});

// LM317 datasheet: at least 3 V recommended from 10 mA to 1.5 A and 0 to 125 °C, so the law must stay below.
test('stays below the recommended 3 V all over the recommended range', () => {
  for (const amps of [0.01, 0.5, 1, 1.5]) {
    for (const junction of [0, 25, 70, 125]) expect(dropoutVolts(classic, amps, junction)).toBeLessThan(3);
  }
});

// Textbook: two base-emitter junctions of 0.6 V or more stand between input and output of the classic kind, one of the
// low-drop kind, however large the die is. 2.6 V and 1.3 V at 5 A: parts of that size (from memory).
test('a regulator for more amps keeps its junctions at little load', () => {
  const atLittleLoad = {
    classic: darlingtonDropout({ volts: 2.6, amps: 5 }),
    low: lowDropDropout({ volts: 1.3, amps: 5 }),
  };
  expect(dropoutVolts(atLittleLoad.classic, 0.01, 25)).toBeGreaterThan(1.2);
  expect(dropoutVolts(atLittleLoad.low, 0.01, 25)).toBeGreaterThan(0.6);
  expect(dropoutVolts(atLittleLoad.classic, 5, 25)).toBeCloseTo(2.6, 12);
});
