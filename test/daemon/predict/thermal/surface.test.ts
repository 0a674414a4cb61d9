import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  heatFlow,
  heatFlowSlope,
  surfaceResistance,
  surfaceTemperature,
} from '../../../../daemon/predict/thermal/surface.js';
import { thermalTraces } from './trace-cases.js';

const SEED = 7003;
const sink = { conduction: 0.01, convection: 0.07, radiation: 0.002 };

test(`the temperature at which a surface gives off a heat gives off that heat (seed ${SEED})`, () => {
  const part = fc.double({ min: 0, max: 0.1, noNaN: true });
  fc.assert(
    fc.property(
      part,
      part,
      fc.double({ min: 1e-4, max: 0.1, noNaN: true }),
      fc.double({ min: 1e-6, max: 200, noNaN: true }),
      (conduction, convection, radiation, watts) => {
        const law = { conduction, convection, radiation };
        const surface = surfaceTemperature(law, watts, 25);
        const missKelvin = (heatFlow(law, surface, 25) - watts) / heatFlowSlope(law, surface, 25);
        expect(Math.abs(missKelvin)).toBeLessThan(1e-8);
      },
    ),
    { seed: SEED, numRuns: 300 },
  );
});

test('its slope is that of its flow', () => {
  const difference = (heatFlow(sink, 60.001, 25) - heatFlow(sink, 59.999, 25)) / 0.002;
  expect(heatFlowSlope(sink, 60, 25)).toBeCloseTo(difference, 7);
});

test('no heat, no rise; nothing to give it off is said', () => {
  expect(surfaceTemperature(sink, 0, 25)).toBe(25);
  expect(() => surfaceTemperature({ conduction: 0, convection: 0, radiation: 0 }, 1, 25)).toThrow(
    'this one has none',
  );
});

// Truth of the reference warm-up traces (their README tells the law): K/W at a rise of 50 K over 25 °C.
test('meets the K/W stated for 160 bare packages and heatsinks', () => {
  for (const { truth } of thermalTraces()) {
    const law = {
      conduction: truth.conduction_W_per_K,
      convection: truth.convection_coefficient_W_per_K1p25,
      radiation: truth.emissivity * truth.radiating_area_m2,
    };
    expect(Math.abs(surfaceResistance(law, 50, 25) / truth.theta_to_ambient_at_50K_C_per_W - 1)).toBeLessThan(
      0.01,
    );
  }
});
