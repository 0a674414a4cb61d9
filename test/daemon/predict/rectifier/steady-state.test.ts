import { describe, expect, it } from 'vitest';
import { RectifierError } from '../../../../daemon/predict/rectifier/circuit.js';
import { SOLUTION } from '../../../../daemon/predict/rectifier/measure.js';
import { CIRCUIT, writeCircuit } from '../../../../daemon/predict/rectifier/path.js';
import { createWorkspace } from '../../../../daemon/predict/rectifier/pieces.js';
import {
  formOf,
  readSolution,
  solveManyInto,
  solveRectifier,
  solveWaveform,
} from '../../../../daemon/predict/rectifier/steady-state.js';
import { benchCircuit, idealDiode, lampRail, seeded } from './circuits.js';

describe('degenerate ends', () => {
  it('rests at the emf peak less the drop at no current without any load', () => {
    const open = { ...lampRail, loadCurrent: 0 };
    const fixed = { ...open, diode: { law: 'fixed-drop', forwardDrop: 0.7, slopeResistance: 0.02 } } as const;
    expect(solveRectifier(open).meanVolts).toBeCloseTo(lampRail.emfPeak, 9);
    expect(solveRectifier(fixed).meanVolts).toBeCloseTo(lampRail.emfPeak - 1.4, 9);
    expect(solveRectifier(open)).toMatchObject({
      ripplePeakToPeak: 0,
      rectifiedPeakCurrent: 0,
      starved: false,
    });
  });

  it('follows the rectified sine with hardly any capacitance: mean 2/pi, RMS 1/sqrt 2 of the peak', () => {
    const bare = {
      ...lampRail,
      diode: idealDiode,
      capacitance: 1e-9,
      seriesResistance: 1e-3,
      loadCurrent: 0,
    };
    const solved = solveRectifier({ ...bare, capacitorResistance: 0, loadResistance: 100 });
    expect(solved.meanVolts / lampRail.emfPeak).toBeCloseTo(2 / Math.PI, 4);
    expect(solved.ripplePeakToPeak / lampRail.emfPeak).toBeCloseTo(1, 3);
    expect(solved.conductionAngleDegrees).toBeGreaterThan(179);
    // Fourier series of |sin|: 4/(3 pi) at twice, 4/(15 pi) at four times the mains frequency.
    expect(solved.rippleAtTwiceMains / lampRail.emfPeak).toBeCloseTo(4 / (3 * Math.PI), 4);
    expect(solved.rippleAtFourTimesMains / lampRail.emfPeak).toBeCloseTo(4 / (15 * Math.PI), 4);
  });

  it('gives half a sine for half-wave: mean 1/pi, half the peak at the mains frequency', () => {
    const bare = {
      ...lampRail,
      kind: 'half-wave',
      diode: idealDiode,
      capacitance: 1e-9,
      loadCurrent: 0,
    } as const;
    const solved = solveRectifier({
      ...bare,
      seriesResistance: 1e-3,
      capacitorResistance: 0,
      loadResistance: 100,
    });
    expect(solved.meanVolts / lampRail.emfPeak).toBeCloseTo(1 / Math.PI, 4);
    expect(solved.rippleAtMains / lampRail.emfPeak).toBeCloseTo(0.5, 4);
  });

  it('says that a constant-current load starves when the supply cannot feed it', () => {
    const solved = solveRectifier({ ...lampRail, capacitance: 47e-6, loadCurrent: 2 });
    expect(solved.starved).toBe(true);
    expect(solved.valleyVolts).toBe(0);
    expect(solved.loadMeanCurrent).toBeLessThan(2);
    expect(solved.loadMeanCurrent / solved.rectifiedMeanCurrent).toBeCloseTo(1, 3);
  });

  it('collapses to 0 V under a load beyond the short-circuit current, which is all that flows', () => {
    const hopeless = { ...lampRail, seriesResistance: 100, diode: idealDiode, loadCurrent: 50 };
    const solved = solveRectifier(hopeless);
    expect(solved).toMatchObject({ meanVolts: 0, peakVolts: 0, starved: true });
    expect(solved.loadMeanCurrent).toBeCloseTo(((2 / Math.PI) * lampRail.emfPeak) / 100, 5);
  });

  it('carries a 5 mA load near the peak, with ripple of about I/(2fC)', () => {
    const solved = solveRectifier({ ...lampRail, capacitorResistance: 0, loadCurrent: 0.005 });
    const coarse = 0.005 / (2 * 50 * lampRail.capacitance);
    expect(solved.ripplePeakToPeak).toBeLessThan(coarse);
    expect(solved.ripplePeakToPeak).toBeGreaterThan(0.75 * coarse);
    expect(solved.meanVolts).toBeGreaterThan(lampRail.emfPeak - 1.6);
  });
});

describe('errors', () => {
  it('refuses a circuit that cannot be, naming the input, the rule and the circuit', () => {
    const attempt = (): unknown => solveRectifier({ ...lampRail, capacitance: -1 });
    expect(attempt).toThrow(RectifierError);
    expect(attempt).toThrow(
      /capacitance must be finite and above 0, got -1; circuit: .*kind=bridge.*hertz=50/,
    );
  });

  it.each(['hertz', 'emfPeak', 'seriesResistance', 'loadCurrent', 'capacitorResistance'] as const)(
    'refuses %s = NaN',
    (name) => {
      expect(() => solveRectifier({ ...lampRail, [name]: NaN })).toThrow(new RegExp(`${name} must be`));
    },
  );
});

describe('batches', () => {
  it('solveManyInto gives for every row what solveRectifier gives, seed 7', () => {
    const random = seeded(7);
    const circuits = Array.from(
      { length: 20 },
      () => ({ ...benchCircuit(random), kind: 'bridge', oneDiodeOpen: false }) as const,
    );
    const rows = new Float64Array(circuits.length * CIRCUIT.columns);
    const solutions = new Float64Array(circuits.length * SOLUTION.columns);
    circuits.forEach((circuit, row) => writeCircuit(circuit, rows, row));
    solveManyInto(formOf(circuits[0]!), rows, solutions, createWorkspace());
    circuits.forEach((circuit, row) => expect(readSolution(solutions, row)).toEqual(solveRectifier(circuit)));
  });

  it('names the row that cannot be', () => {
    const rows = new Float64Array(2 * CIRCUIT.columns);
    writeCircuit(lampRail, rows, 0);
    writeCircuit({ ...lampRail, hertz: 0 }, rows, 1);
    const solutions = new Float64Array(2 * SOLUTION.columns);
    expect(() => solveManyInto(formOf(lampRail), rows, solutions, createWorkspace())).toThrow(/hertz.*row=1/);
  });
});

describe('waveform', () => {
  it('has the mean, peak and valley of the steady state, over a whole mains cycle', () => {
    const solved = solveRectifier(lampRail);
    const { volts, rectifiedCurrent, degrees } = solveWaveform(lampRail, 3600);
    const mean = (values: Float64Array): number =>
      values.reduce((sum, value) => sum + value, 0) / values.length;
    expect(degrees[1800]).toBe(180);
    expect(mean(volts)).toBeCloseTo(solved.meanVolts, 4);
    expect(Math.max(...volts)).toBeCloseTo(solved.peakVolts, 3);
    expect(Math.min(...volts)).toBeCloseTo(solved.valleyVolts, 3);
    expect(mean(rectifiedCurrent)).toBeCloseTo(1, 3);
  });

  it('obeys the diode law at every instant: emf = drops + node (Kirchhoff)', () => {
    const { volts, rectifiedCurrent, degrees } = solveWaveform(lampRail, 720);
    degrees.forEach((angle, j) => {
      const i = rectifiedCurrent[j]!;
      if (i < 1e-3) return;
      const drops = i * (lampRail.seriesResistance + 2 * 0.04) + 2 * 1.8 * 0.025852 * Math.log1p(i / 7e-9);
      expect(lampRail.emfPeak * Math.abs(Math.sin((angle * Math.PI) / 180)) - drops - volts[j]!).toBeCloseTo(
        0,
        5,
      );
    });
  });
});
