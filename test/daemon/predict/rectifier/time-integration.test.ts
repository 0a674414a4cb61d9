import { describe, expect, it } from 'vitest';
import { solveRectifier } from '../../../../daemon/predict/rectifier/steady-state.js';
import { benchCircuit, seeded } from './circuits.js';
import { integrateToSteadyState } from './reference-integrator.js';

// Outside reference: npm odex (Hairer and Wanner's extrapolation integrator), run here on the same equations.
const random = seeded(20250611);
const circuits = Array.from({ length: 60 }, (_, index) => ({ index, circuit: benchCircuit(random) }));

describe('against time integration with odex, seed 20250611', () => {
  it.each(circuits)(
    'circuit $index: mean within 0.01 %, ripple and RMS current within 0.05 %',
    ({ circuit }) => {
      const ours = solveRectifier(circuit);
      const theirs = integrateToSteadyState(circuit, 1e-8, 0.8 * circuit.emfPeak);
      expect(Math.abs(ours.meanVolts / theirs.meanVolts - 1)).toBeLessThan(1e-4);
      expect(Math.abs(ours.ripplePeakToPeak / theirs.ripplePeakToPeak - 1)).toBeLessThan(5e-4);
      expect(Math.abs(ours.rectifiedRmsCurrent / theirs.rectifiedRmsCurrent - 1)).toBeLessThan(5e-4);
    },
  );
});
