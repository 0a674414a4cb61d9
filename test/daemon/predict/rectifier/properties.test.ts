import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Diode, RectifierCircuit } from '../../../../daemon/predict/rectifier/circuit.js';
import { createWorkspace } from '../../../../daemon/predict/rectifier/pieces.js';
import { solveRectifier } from '../../../../daemon/predict/rectifier/steady-state.js';

const SEED = 20250612;
const RUNS = 1500;
const space = createWorkspace();

function logarithmic(low: number, high: number): fc.Arbitrary<number> {
  return fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);
}

const diode: fc.Arbitrary<Diode> = fc.oneof(
  fc.record({
    law: fc.constant('shockley' as const),
    saturationCurrent: logarithmic(1e-14, 1e-5),
    emissionCoefficient: fc.double({ min: 1, max: 2, noNaN: true }),
    thermalVoltage: fc.constant(0.025852),
    seriesResistance: fc.oneof(fc.constant(0), logarithmic(1e-3, 0.1)),
  }),
  fc.record({
    law: fc.constant('fixed-drop' as const),
    forwardDrop: fc.oneof(fc.constant(0), logarithmic(0.2, 1.2)),
    slopeResistance: fc.oneof(fc.constant(0), logarithmic(1e-3, 0.1)),
  }),
);

/** Far wider than any supply: 0.1 uF to 1 F, 1 uA to 50 A, a milliohm to a hundred ohm. */
const anyCircuit: fc.Arbitrary<RectifierCircuit> = fc.record({
  kind: fc.constantFrom('bridge' as const, 'centre-tapped' as const, 'half-wave' as const),
  oneDiodeOpen: fc.boolean(),
  hertz: fc.constantFrom(50, 60),
  emfPeak: logarithmic(1, 100),
  seriesResistance: logarithmic(1e-3, 100),
  diode,
  capacitance: logarithmic(1e-7, 1),
  capacitorResistance: fc.oneof(fc.constant(0), logarithmic(1e-4, 5)),
  loadCurrent: fc.oneof(fc.constant(0), logarithmic(1e-6, 50)),
  loadResistance: fc.oneof(fc.constant(Infinity), logarithmic(0.1, 1e6)),
});

/** What the load would draw at the emf's peak: the scale below which a power or a volt is nothing. */
function wantedCurrent(circuit: RectifierCircuit): number {
  return circuit.loadCurrent + circuit.emfPeak / circuit.loadResistance;
}

describe(`properties, seed ${SEED}`, () => {
  it('every figure is finite and in order, whatever the circuit', () => {
    const property = fc.property(anyCircuit, (circuit) => {
      const solved = solveRectifier(circuit, space);
      for (const value of Object.values(solved)) expect(Number.isFinite(Number(value))).toBe(true);
      expect(solved.valleyVolts).toBeLessThanOrEqual(solved.meanVolts + 1e-9);
      expect(solved.peakVolts).toBeGreaterThanOrEqual(solved.meanVolts - 1e-9);
      expect(solved.peakVolts).toBeLessThanOrEqual(circuit.emfPeak * 1.000001);
    });
    fc.assert(property, { seed: SEED, numRuns: RUNS });
  });

  it('the emf gives what loads and losses take, within 0.1 %, and charge in is charge out', () => {
    const property = fc.property(anyCircuit, (circuit) => {
      const solved = solveRectifier(circuit, space);
      const losses = solved.allDiodesDissipation + solved.seriesDissipation + solved.capacitorDissipation;
      const power = Math.max(solved.inputPower, 1e-6 * circuit.emfPeak * wantedCurrent(circuit));
      const current = Math.max(solved.rectifiedMeanCurrent, 1e-6 * wantedCurrent(circuit));
      expect(Math.abs(solved.inputPower - solved.loadPower - losses) / (power || 1)).toBeLessThan(1e-3);
      expect(Math.abs(solved.rectifiedMeanCurrent - solved.loadMeanCurrent) / (current || 1)).toBeLessThan(
        1e-3,
      );
    });
    fc.assert(property, { seed: SEED, numRuns: RUNS });
  });

  it('more capacitance never gives more ripple', () => {
    const property = fc.property(anyCircuit, logarithmic(1.05, 20), (circuit, factor) => {
      const small = solveRectifier(circuit, space);
      const large = solveRectifier({ ...circuit, capacitance: circuit.capacitance * factor }, space);
      expect(large.rippleRms).toBeLessThanOrEqual(small.rippleRms * 1.002 + 1e-5 * circuit.emfPeak);
    });
    fc.assert(property, { seed: SEED, numRuns: RUNS });
  });

  it('more load never gives more volts', () => {
    const property = fc.property(anyCircuit, logarithmic(1.05, 20), (circuit, factor) => {
      const light = solveRectifier(circuit, space);
      const loads = {
        loadCurrent: circuit.loadCurrent * factor,
        loadResistance: circuit.loadResistance / factor,
      };
      const heavy = solveRectifier({ ...circuit, ...loads }, space);
      expect(heavy.meanVolts).toBeLessThanOrEqual(light.meanVolts + 2e-5 * circuit.emfPeak);
    });
    fc.assert(property, { seed: SEED, numRuns: RUNS });
  });
});
