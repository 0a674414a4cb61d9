import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaOhms, betaTemperature, steinhartHartTemperature } from '../../../drivers/sensors/thermistor.js';

// A maker's printed table of R / R25 for its material with beta 3977 K between 25 and 85 degrees C.
const RATIOS: readonly (readonly [temperature: number, ratio: number])[] = [
  [-40, 33.36],
  [-35, 24.11],
  [-30, 17.61],
  [-25, 12.99],
  [-20, 9.681],
  [-15, 7.281],
  [-10, 5.525],
  [-5, 4.229],
  [0, 3.264],
  [5, 2.539],
  [10, 1.99],
  [15, 1.571],
  [20, 1.249],
  [25, 1],
  [30, 0.8056],
  [35, 0.653],
  [40, 0.5325],
  [45, 0.4367],
  [50, 0.3601],
  [55, 0.2985],
  [60, 0.2487],
  [65, 0.2082],
  [70, 0.1751],
  [75, 0.148],
  [80, 0.1256],
  [85, 0.107],
  [90, 0.09155],
  [95, 0.07864],
  [100, 0.06781],
  [105, 0.05868],
  [110, 0.05095],
  [115, 0.04439],
  [120, 0.03881],
  [125, 0.03403],
  [130, 0.02993],
  [135, 0.0264],
];

// The same maker's fitted curve in ln(R / R25); it recovers its own table within 0.014 K (checked outside).
const FITTED = { a: 3.3539438e-3, b: 2.5646095e-4, d: 2.5158166e-6, c: 1.0503069e-7, ohmsUnit: 10_000 };

// A maker's chart of a 10 kohm bead: coefficients in ohms, and printed resistances.
const CHART = { a: 1.12924e-3, b: 2.34108e-4, c: 0.87755e-7, d: 0, ohmsUnit: 1 };

const BETA = { beta: 3977, r25: 10_000 };

describe('NTC by the Steinhart-Hart equation', () => {
  it.each(RATIOS)('with four terms is at %d degrees C with R / R25 = %d', (temperature, ratio) => {
    const read = steinhartHartTemperature(FITTED, 10_000 * ratio) ?? NaN;
    expect(Math.abs(read - temperature)).toBeLessThan(0.015);
  });

  it.each([
    [-40, 335_671],
    [-35, 242_195],
    [-31, 188_026],
    [25, 10_000],
  ])('with three terms is at %d degrees C with %d ohm', (temperature, ohms) => {
    // 0.05 K: the chart's coefficients have six digits and its resistances come from a finer fit
    expect(Math.abs((steinhartHartTemperature(CHART, ohms) ?? NaN) - temperature)).toBeLessThan(0.05);
  });

  it('has no answer for no ohms, negative ohms and none at all', () => {
    for (const ohms of [0, -5, NaN, Infinity]) expect(steinhartHartTemperature(CHART, ohms)).toBeNull();
  });
});

describe('NTC by beta', () => {
  // Beta 25/85 is defined by those two temperatures, so the table must be met there to its rounding.
  it.each([
    [25, 1, 0.001],
    [85, 0.107, 0.1],
  ])('meets the table at %d degrees C', (temperature, ratio, allowed) => {
    expect(Math.abs((betaTemperature(BETA, 10_000 * ratio) ?? NaN) - temperature)).toBeLessThan(allowed);
  });

  // The maker's table against its own beta, computed outside: +3.9 % of the ohms at 0, -1 % at 50, +3 % at 125.
  it.each([
    [0, 3.39],
    [50, 0.3563],
    [125, 0.0351],
  ])('at %d degrees C has R / R25 = %d', (temperature, ratio) => {
    expect(betaOhms(BETA, temperature) / 10_000 / ratio).toBeCloseTo(1, 2);
  });

  // Makers print beta between two temperatures: ln(R1/R2) / (1/T1 - 1/T2) of the same table.
  it.each([
    [3892, 0, 3.264],
    [3937, 50, 0.3601],
    [3992, 100, 0.06781],
    [4013, 125, 0.03403],
  ])('with beta %d between 25 and %d degrees C meets the table there', (beta, temperature, ratio) => {
    // The one from 0 degrees C is stated to 50, so it misses 25/0 by up to 1 K.
    const allowed = temperature === 0 ? 1 : 0.05;
    const read = betaTemperature({ beta, r25: 10_000 }, 10_000 * ratio) ?? NaN;
    expect(Math.abs(read - temperature)).toBeLessThan(allowed);
  });

  // From memory of a maker's part: 1.451 kohm at 85 degrees C, which with 25 degrees C defines its beta of 3435.
  it('with beta 3435 is at 85 degrees C with 1451 ohm', () => {
    const read = betaTemperature({ beta: 3435, r25: 10_000 }, 1451) ?? NaN;
    expect(Math.abs(read - 85)).toBeLessThan(0.3);
  });

  it('comes back (seed 3977)', () => {
    fc.assert(
      fc.property(fc.double({ min: -55, max: 300, noNaN: true }), (temperature) => {
        expect(betaTemperature(BETA, betaOhms(BETA, temperature))).toBeCloseTo(temperature, 8);
      }),
      { seed: 3977 },
    );
  });

  it('has no answer for no ohms, negative ohms and none at all', () => {
    for (const ohms of [0, -5, NaN, Infinity]) expect(betaTemperature(BETA, ohms)).toBeNull();
  });
});
