import { performance } from 'node:perf_hooks';
import type { RectifierCircuit, RectifierKind } from '../../daemon/predict/rectifier/circuit.js';
import { SOLUTION } from '../../daemon/predict/rectifier/measure.js';
import { CIRCUIT, writeCircuit } from '../../daemon/predict/rectifier/path.js';
import { createWorkspace } from '../../daemon/predict/rectifier/pieces.js';
import { formOf, readSolution, solveManyInto } from '../../daemon/predict/rectifier/steady-state.js';
import { benchCircuit, seeded } from '../daemon/predict/rectifier/circuits.js';
import { integrateToSteadyState } from '../daemon/predict/rectifier/reference-integrator.js';

export interface RectifierRow {
  readonly name: string;
  /** Median time of odex with a secant to periodic steady state over the median time of the solver. */
  readonly ratioToReference: number;
  readonly medianMicroseconds: number;
  readonly worstMicroseconds: number;
  /** Largest deviation of the mean volts from odex at a tight tolerance. */
  readonly errorPercent: number;
}

const SEED = 20250613;
const CIRCUITS = 24;
const WARM_UP = 20_000;
const REPEATS = 10;
const BATCHES = 5;
/** The general-purpose way at its fastest: as loose as still gives the mean to about 0.1 %. */
const LOOSE = 1e-4;
const TIGHT = 1e-9;

/** The solver against time integration with odex on the same seeded circuits, in turns in the same run. */
export async function rows(): Promise<RectifierRow[]> {
  const random = seeded(SEED);
  const kinds: RectifierKind[] = ['bridge', 'centre-tapped', 'half-wave'];
  const circuits = Array.from({ length: 8 * CIRCUITS }, () => benchCircuit(random));
  const found = kinds.map((kind) => {
    const ofKind = circuits.filter((circuit) => circuit.kind === kind).slice(0, CIRCUITS);
    return measure(`${kind}, seed ${SEED}`, ofKind);
  });
  return Promise.resolve(found);
}

function measure(name: string, circuits: readonly RectifierCircuit[]): RectifierRow {
  const jobs = circuits.map(prepare);
  for (let round = 0; round < WARM_UP; round += 1) jobs[round % jobs.length]!.solve();
  integrateToSteadyState(circuits[0]!, LOOSE, 0.8 * circuits[0]!.emfPeak);
  const ours: number[] = [];
  const theirs: number[] = [];
  let errorPercent = 0;
  circuits.forEach((circuit, index) => {
    const { solve, mean } = jobs[index]!;
    ours.push(microseconds(solve, REPEATS));
    theirs.push(microseconds(() => integrateToSteadyState(circuit, LOOSE, 0.8 * circuit.emfPeak), 1));
    const exact = integrateToSteadyState(circuit, TIGHT, mean()).meanVolts;
    errorPercent = Math.max(errorPercent, 100 * Math.abs(mean() / exact - 1));
  });
  return {
    name,
    ratioToReference: median(theirs) / median(ours),
    medianMicroseconds: median(ours),
    worstMicroseconds: Math.max(...ours),
    errorPercent,
  };
}

const space = createWorkspace();

function prepare(circuit: RectifierCircuit): { solve: () => void; mean: () => number } {
  const inputs = new Float64Array(CIRCUIT.columns);
  const solutions = new Float64Array(SOLUTION.columns);
  writeCircuit(circuit, inputs, 0);
  const form = formOf(circuit);
  return {
    solve: () => solveManyInto(form, inputs, solutions, space),
    mean: () => readSolution(solutions, 0).meanVolts,
  };
}

/** Best of a few batches: what the machine does beside only ever adds time. */
function microseconds(work: () => unknown, repeats: number): number {
  let best = Infinity;
  for (let batch = 0; batch < BATCHES; batch += 1) {
    const start = performance.now();
    for (let count = 0; count < repeats; count += 1) work();
    best = Math.min(best, ((performance.now() - start) * 1000) / repeats);
  }
  return best;
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)]!;
}
