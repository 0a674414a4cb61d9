import { performance } from 'node:perf_hooks';
import { faultModels } from '../../daemon/predict/engine/faults.js';
import { redrawn, unmeasured, withMeasurement } from '../../daemon/predict/engine/measured-cloud.js';
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
  /** Weighing the cloud of 10,000 draws by one more measured value. */
  readonly reweighMedianMs: number;
  /** The same, and drawing 2,048 anew around what was measured. */
  readonly redrawMedianMs: number;
  /** The clouds of every known fault, 2,000 draws each. */
  readonly faultCloudsMs: number;
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
  const cloud = drawModelCloud(model, { draws: DRAWS, seed: SEED });
  const columns = [...cloud.inputs, ...Object.values(cloud.results)];
  const { 'reservoir.volts': volts = new Float64Array(1) } = cloud.results;
  const reading = { point: 'reservoir.volts', value: volts[0]!, standardUncertainty: 0.05 };
  const drawn = unmeasured(cloud);
  const small = withMeasurement(unmeasured(drawModelCloud(model, { draws: 2048, seed: SEED })), reading);
  return {
    name,
    cloudLeastMs: Math.min(...clouds),
    cloudMedianMs: median(clouds),
    ratioToReference: median(references) / (median(clouds) / DRAWS),
    cloudMegabytes: columns.reduce((sum, column) => sum + column.byteLength, 0) / 1e6,
    predictionMedianMs: median(predictions),
    reweighMedianMs: median(repeated(() => withMeasurement(drawn, reading))),
    redrawMedianMs: median(repeated(() => redrawn(model, small))),
    faultCloudsMs: milliseconds(() => {
      for (const { apply } of faultModels(supply)) {
        drawModelCloud(supplyModel(apply(1), 'typical'), { draws: 2000, seed: SEED });
      }
    }),
  };
}

/** As a running daemon does it: the first rounds, before the code is compiled, don't count. */
function repeated(work: () => unknown): number[] {
  for (let round = 0; round < ROUNDS; round += 1) work();
  return Array.from({ length: ROUNDS }, () => milliseconds(work));
}

function milliseconds(work: () => unknown): number {
  const startedMs = performance.now();
  work();
  return performance.now() - startedMs;
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
}
