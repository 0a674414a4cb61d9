import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { polynomial } from '../../../drivers/sensors/polynomial.js';
import {
  hotEndTemperature,
  thermocoupleMillivolts,
  thermocoupleTemperature,
} from '../../../drivers/sensors/thermocouple.js';
import { THERMOCOUPLES, type ThermocoupleType } from '../../../drivers/sensors/thermocouple-tables.js';

const TEMPERATURES = [-40, -20, 0, 20, 25, 30, 40, 50, 60, 80, 85, 100, 125, 150, 200];

// Printed tables, mV with the reference junction at 0 degrees C: NIST ITS-90 Thermocouple Database (all.tab).
const PRINTED_MILLIVOLTS: Readonly<Record<ThermocoupleType, readonly number[]>> = {
  K: [-1.527, -0.778, 0, 0.798, 1, 1.203, 1.612, 2.023, 2.436, 3.267, 3.474, 4.096, 5.124, 6.138, 8.138],
  J: [-1.961, -0.995, 0, 1.019, 1.277, 1.537, 2.059, 2.585, 3.116, 4.187, 4.456, 5.269, 6.634, 8.01, 10.779],
  T: [-1.475, -0.757, 0, 0.79, 0.992, 1.196, 1.612, 2.036, 2.468, 3.358, 3.585, 4.279, 5.47, 6.704, 9.288],
};
const PRINTED_ROUNDING_MILLIVOLTS = 0.0005;

const ROWS = (['K', 'J', 'T'] as const).flatMap((type) =>
  TEMPERATURES.map((temperature, index) => ({
    type,
    temperature,
    millivolts: PRINTED_MILLIVOLTS[type][index] as number,
  })),
);

// Printed with the coefficients: where each inverse begins and ends, and its error against the reference function
// in K (NIST ITS-90 Thermocouple Database).
const INVERSE_ERRORS: readonly [ThermocoupleType, number, number, number, number][] = [
  ['K', -200, 0, -0.02, 0.04],
  ['K', 0, 500, -0.05, 0.04],
  ['K', 500, 1372, -0.05, 0.06],
  ['J', -210, 0, -0.05, 0.03],
  ['J', 0, 760, -0.04, 0.04],
  ['J', 760, 1200, -0.04, 0.03],
  ['T', -200, 0, -0.02, 0.04],
  ['T', 0, 400, -0.03, 0.03],
];
const PRINTED_ERROR_ROUNDING = 0.005;

describe('thermocouple reference functions', () => {
  it.each(ROWS)('type $type at $temperature degrees C gives $millivolts mV', (row) => {
    const millivolts = thermocoupleMillivolts(row.type, row.temperature);
    expect(Math.abs((millivolts ?? NaN) - row.millivolts)).toBeLessThanOrEqual(
      PRINTED_ROUNDING_MILLIVOLTS * 1.0001,
    );
  });

  // IEC 60584-1: where each reference function begins and ends.
  it.each([
    ['K', -270, 1372],
    ['J', -210, 1200],
    ['T', -270, 400],
  ] as const)('type %s is defined from %d to %d degrees C', (type, lowest, highest) => {
    expect(thermocoupleMillivolts(type, lowest)).toBeTypeOf('number');
    expect(thermocoupleMillivolts(type, highest)).toBeTypeOf('number');
    for (const outside of [lowest - 0.001, highest + 0.001, NaN, Infinity]) {
      expect(thermocoupleMillivolts(type, outside)).toBeNull();
    }
  });
});

describe('thermocouple inverses', () => {
  it.each(INVERSE_ERRORS)('type %s from %d to %d: the printed polynomial errs by %d to %d K', (...row) => {
    const [type, from, to, least, most] = row;
    const inverse = THERMOCOUPLES[type].inverse.find((piece) => {
      const middle = thermocoupleMillivolts(type, (from + to) / 2) ?? NaN;
      return middle >= piece.from && middle <= piece.to;
    });
    const errors = Array.from({ length: 401 }, (_, step) => {
      const temperature = from + ((to - from) * step) / 400;
      const millivolts = thermocoupleMillivolts(type, temperature) ?? NaN;
      return polynomial(inverse?.coefficients ?? [], millivolts) - temperature;
    });
    expect(Math.min(...errors)).toBeGreaterThan(least - PRINTED_ERROR_ROUNDING);
    expect(Math.max(...errors)).toBeLessThan(most + PRINTED_ERROR_ROUNDING);
  });

  it.each(ROWS)('type $type with $millivolts mV is at $temperature degrees C', (row) => {
    const temperature = thermocoupleTemperature(row.type, row.millivolts) ?? NaN;
    const slope = 0.03; // mV/K, the least of the three types here, at -40 degrees C (same tables)
    expect(Math.abs(temperature - row.temperature)).toBeLessThan(PRINTED_ROUNDING_MILLIVOLTS / slope);
  });

  it.each([
    ['K', -199.9, 1371.9],
    ['J', -209.9, 1199.9],
    ['T', -199.9, 399.9],
  ] as const)('type %s comes back within a microkelvin (seed 584)', (type, min, max) => {
    fc.assert(
      fc.property(fc.double({ min, max, noNaN: true }), (temperature) => {
        const back = thermocoupleTemperature(type, thermocoupleMillivolts(type, temperature) ?? NaN) ?? NaN;
        expect(Math.abs(back - temperature)).toBeLessThan(1e-6);
      }),
      { seed: 584 },
    );
  });

  it.each([
    ['K', -5.9, 54.9],
    ['J', -8.1, 69.56],
    ['T', -5.61, 20.88],
  ] as const)('type %s has no temperature beyond its range', (type, below, above) => {
    expect(thermocoupleTemperature(type, below)).toBeNull();
    expect(thermocoupleTemperature(type, above)).toBeNull();
    expect(thermocoupleTemperature(type, NaN)).toBeNull();
  });
});

describe('hotEndTemperature', () => {
  // Type K, printed: 85 degrees C is 3.474 mV and 25 degrees C 1.000 mV (NIST), so 2.474 mV lie between them.
  it('adds the cold junction in millivolts', () => {
    expect(hotEndTemperature('K', 3.474 - 1.0, 25)).toBeCloseTo(85, 1);
    expect(hotEndTemperature('J', 5.269 - 1.277, 25)).toBeCloseTo(100, 1);
    expect(hotEndTemperature('T', 0.992 - 4.279, 100)).toBeCloseTo(25, 1);
  });

  it('has no answer for a cold junction that cannot be', () => {
    expect(hotEndTemperature('K', 1, -300)).toBeNull();
    expect(hotEndTemperature('K', 1, NaN)).toBeNull();
  });
});
