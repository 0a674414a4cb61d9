import { describe, expect, test } from 'vitest';
import { evenWaveform } from '../../../../daemon/predict/follower/periodic-waveform.js';
import { emptyRailFigures, solveRail } from '../../../../daemon/predict/regulator/rail.js';
import type { RailFigures } from '../../../../daemon/predict/regulator/rail.js';
import { rippleShare } from '../../../../daemon/predict/regulator/rejection.js';
import { adjustableVolts } from '../../../../daemon/predict/regulator/set-volts.js';
import { railCases } from './rail-cases.js';
import type { RailCase } from './rail-cases.js';

function solvedCase(one: RailCase): RailFigures {
  const { inputs } = one;
  const setVolts = adjustableVolts({
    referenceVolts: 1.25,
    adjustAmps: 50e-6,
    r1: inputs.regulator_R1_ohm,
    r2: inputs.regulator_R2_ohm,
  });
  const law = {
    setVolts,
    feedthrough: rippleShare(inputs.regulator_ripple_rejection_dB),
    dropoutVolts: inputs.regulator_dropout_V,
    quiescentAmps: inputs.regulator_quiescent_current_A,
  };
  const figures = emptyRailFigures();
  const output = new Float64Array(one.input.volts.length);
  solveRail(one.input, law, inputs.load_constant_current_A, output, figures);
  expect(setVolts).toBeCloseTo(one.answer.vout_set_V, 6);
  return figures;
}

// Answers of test/data/reference-cases/rectifier_cases.json (three integrators that agree, see its README),
// on the waveforms of test/data/rail-waveforms.
describe('against the reference regulators', () => {
  test.each(railCases())('$id', (one) => {
    const figures = solvedCase(one);
    const { answer } = one;
    expect(Math.abs(figures.meanVolts - answer.vout_mean_V)).toBeLessThan(2e-4 * answer.vout_mean_V);
    expect(figures.valleyVolts).toBeCloseTo(answer.vout_min_V, 4);
    expect(figures.peakVolts).toBeCloseTo(answer.vout_max_V, 3);
    expect(figures.headroom).toBeCloseTo(answer.headroom_at_valley_V, 4);
    expect(Math.abs(figures.dropoutFraction - answer.dropout_time_fraction)).toBeLessThan(0.003);
    expect(Math.abs(figures.dissipation / answer.dissipation_W - 1)).toBeLessThan(0.005);
  });
});

const sawtooth = evenWaveform(Float64Array.from([12, 11, 10, 9]), 0.01);
const fivePlusTwo = { setVolts: 5, feedthrough: 0, dropoutVolts: 2, quiescentAmps: 0.005 };

// Ohm's law by hand: mean input 10.5 V, 5.5 V × 0.2 A + 10.5 V × 5 mA.
test('with room it holds its set volts, and its heat is drop times current', () => {
  const figures = emptyRailFigures();
  solveRail(sawtooth, fivePlusTwo, 0.2, new Float64Array(4), figures);
  expect(figures.meanVolts).toBe(5);
  expect(figures.dissipation).toBeCloseTo(1.1525, 12);
  expect(figures.inputAmps).toBeCloseTo(0.205, 12);
  expect(figures.headroom).toBeCloseTo(2, 12);
});

// By hand: set 8 V, dropout 2 V; inputs of 12 to 9 V leave 10, 9, 8, 7; short from 10 V down to 9 and back up to 10.
test('without room it follows the input less the dropout', () => {
  const figures = emptyRailFigures();
  const output = new Float64Array(4);
  solveRail(sawtooth, { ...fivePlusTwo, setVolts: 8 }, 0.2, output, figures);
  expect([...output]).toEqual([8, 8, 8, 7]);
  expect(figures.dropoutFraction).toBeCloseTo((1 + 1 / 3) / 4, 12);
});

test('an input below the dropout gives nothing, never less', () => {
  const figures = emptyRailFigures();
  solveRail(evenWaveform(Float64Array.from([1, 1.5]), 0.01), fivePlusTwo, 0, new Float64Array(2), figures);
  expect(figures.peakVolts).toBe(0);
});
