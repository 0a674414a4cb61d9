import { performance } from 'node:perf_hooks';
import { supplyModel } from '../../daemon/predict/engine/model.js';
import { drawModelCloud } from '../../daemon/predict/engine/model-cloud.js';
import { predictSupply } from '../../daemon/predict/engine/predict-supply.js';
import type { SupplyDescription } from '../../daemon/predict/engine/supply.js';
import { integrateToSteadyState } from '../daemon/predict/rectifier/reference-integrator.js';
import { signalCabin, splitCabin } from '../daemon/predict/engine/supplies.js';

export interface EngineRow {
  readonly name: string;
  /** A cloud of 10,000 draws of the whole supply: least and median of the rounds. */
  readonly cloudLeastMs: number;
  readonly cloudMedianMs: number;
  /** Median time of odex on the reservoir alone over that of one draw of the whole supply, taken in turns. */
  readonly ratioToReference: number;
  /** Held by that cloud. */
  readonly cloudMegabytes: number;
  /** A prediction with its usual number of draws, figures and corners. */
  readonly predictionMedianMs: number;
}

const SEED = 20251125;
const DRAWS = 10_000;
const ROUNDS = 5;
const REFERENCES = 6;
/** As loose as still gives the mean to about 0.1 %. */
const LOOSE = 1e-4;

/** The whole engine against a general-purpose integrator on the reservoir alone, in turns in the same run. */
export function rows(): readonly EngineRow[] {
  return [measure('two rails, bridge', signalCabin()), measure('two rails, split bridge', splitCabin())];
}

function measure(name: string, supply: SupplyDescription): EngineRow {
  const model = supplyModel(supply, 'typical');
  drawModelCloud(model, { draws: 2000, seed: SEED });
  model.solve(model.typicalDraw());
  const circuit = { ...model.reservoir.circuit };
  const clouds: number[] = [];
  const references: number[] = [];
  const predictions: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    clouds.push(milliseconds(() => drawModelCloud(model, { draws: DRAWS, seed: SEED + round })));
    for (let k = 0; k < REFERENCES; k += 1) {
      references.push(milliseconds(() => integrateToSteadyState(circuit, LOOSE, 0.8 * circuit.emfPeak)));
    }
    predictions.push(milliseconds(() => predictSupply(supply, { load: 'typical', seed: round })));
  }
  const { inputs, results } = drawModelCloud(model, { draws: DRAWS, seed: SEED });
  const columns = [...inputs, ...Object.values(results)];
  return {
    name,
    cloudLeastMs: Math.min(...clouds),
    cloudMedianMs: median(clouds),
    ratioToReference: median(references) / (median(clouds) / DRAWS),
    cloudMegabytes: columns.reduce((sum, column) => sum + column.byteLength, 0) / 1e6,
    predictionMedianMs: median(predictions),
  };
}

function milliseconds(work: () => unknown): number {
  const startedMs = performance.now();
  work();
  return performance.now() - startedMs;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
