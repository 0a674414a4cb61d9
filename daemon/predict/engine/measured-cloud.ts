import { solveTransposed } from '../cloud/cholesky.js';
import { fillStandardNormal, isCertain, valueAt } from '../cloud/draws.js';
import type { NormalPlace } from '../cloud/most-probable.js';
import { mostProbable } from '../cloud/most-probable.js';
import type { Weights } from '../cloud/weights.js';
import { reweigh, weightsOf } from '../cloud/weights.js';
import type { SupplyCloud } from '../supply-cloud.js';
import type { Model } from './model.js';

/** What was measured at a test point. */
export interface Measurement {
  readonly point: string;
  /** In the point's unit. */
  readonly value: number;
  /** Of the meter and of what the model leaves out; above 0, in the point's unit. */
  readonly standardUncertainty: number;
}

/** A cloud that knows what was measured. */
export interface MeasuredCloud {
  readonly cloud: SupplyCloud;
  readonly weights: Weights;
  /** One a test point, the latest. */
  readonly measurements: readonly Measurement[];
  /** Points whose measured value no supply built from this design comes near. */
  readonly contradicted: readonly string[];
  /** Logarithms of what the draws count before anything measured: a redrawn cloud lies thicker where it was measured. */
  readonly drawn: Float64Array;
}

/** Below this share of its draws a cloud is too thin to tell a 95 % band, and is drawn anew. */
const LEAST_EFFECTIVE = 1 / 8;
/** A redrawn cloud is wider than the normal approximation, so that no tail is missed (common practice). */
const WIDEN = 1.15;
/** Standard uncertainties: the weighted mean of a cloud that has met a measurement comes nearer. */
const CONTRADICTS = 3;

/** A cloud as it was drawn, with nothing measured. */
export function unmeasured(cloud: SupplyCloud): MeasuredCloud {
  const drawn = new Float64Array(cloud.draws);
  return { cloud, weights: weightsOf(drawn), measurements: [], contradicted: [], drawn };
}

/**
 * Takes a measurement in: the draws are weighted by how well they meet it, which tightens every result that depends on
 * the same numbers. A second one at the same point replaces the first: two readings of one meter aren't independent.
 * @throws {RangeError} for a point that the cloud doesn't have, or numbers that can't weigh anything.
 */
export function withMeasurement(before: MeasuredCloud, measurement: Measurement): MeasuredCloud {
  checkMeasurement(measurement, before.cloud);
  const others = before.measurements.filter(({ point }) => point !== measurement.point);
  const replaces = others.length < before.measurements.length;
  const measurements = [...others, measurement];
  return replaces
    ? weighed(before.cloud, before.drawn, measurements)
    : told({ ...before, measurements, weights: weighedBy(before.cloud, before.weights, measurement) });
}

/** Whether so few draws count that the cloud should be drawn anew with `redrawn`. */
export function isThin({ cloud, weights }: MeasuredCloud): boolean {
  return weights.effectiveSampleSize < LEAST_EFFECTIVE * cloud.draws;
}

/**
 * The same knowledge from draws that lie where the measurements put the supply: around the most probable one, each
 * weighted by prior times likelihood over the density that it was drawn with (importance sampling; Geweke,
 * Econometrica 57 (1989) 1317-1339). Stays as it is where that isn't better.
 * @param model the one that the cloud was drawn from
 */
export function redrawn(model: Model, before: MeasuredCloud): MeasuredCloud {
  const { measurements, cloud } = before;
  const places = model.parameters.flatMap((parameter, place) => (isCertain(parameter) ? [] : [place]));
  const outputs = measurements.map(({ point }) => model.outputs.indexOf(point));
  const vector = Float64Array.from(model.parameters, ({ typical }) => typical);
  const results = new Float64Array(model.outputs.length);
  const evaluate = (normals: Float64Array): void => {
    places.forEach((place, k) => {
      vector[place] = valueAt(model.parameters[place]!, normals[k]!);
    });
    model.evaluate(vector, results);
  };
  const place = mostProbable(
    (normals, found) => {
      evaluate(normals);
      outputs.forEach((output, k) => {
        found[k] = results[output]!;
      });
    },
    places.length,
    measurements,
  );
  const drawn = drawAround(place, places, cloud);
  const inputs = model.parameters.map(() => new Float64Array(cloud.draws));
  const columns = model.outputs.map(() => new Float64Array(cloud.draws));
  const normals = new Float64Array(places.length);
  for (let draw = 0; draw < cloud.draws; draw += 1) {
    for (let k = 0; k < normals.length; k += 1) normals[k] = drawn.normals[k]![draw]!;
    evaluate(normals);
    for (let k = 0; k < vector.length; k += 1) inputs[k]![draw] = vector[k]!;
    for (let k = 0; k < results.length; k += 1) columns[k]![draw] = results[k]!;
  }
  const anew: SupplyCloud = {
    ...cloud,
    inputs,
    results: Object.fromEntries(model.outputs.map((id, k) => [id, columns[k]!])),
  };
  const after = weighed(anew, drawn.logs, measurements);
  return after.weights.effectiveSampleSize > before.weights.effectiveSampleSize ? after : before;
}

/** Standard normal numbers around a place, one column each, with the logarithm of prior over drawn density. */
function drawAround(
  { middle, lower }: NormalPlace,
  places: readonly number[],
  { draws, seed }: SupplyCloud,
): { readonly normals: readonly Float64Array[]; readonly logs: Float64Array } {
  const count = places.length;
  const normals = places.map((place) => {
    const column = new Float64Array(draws);
    fillStandardNormal(column, place, seed);
    return column;
  });
  const logs = new Float64Array(draws);
  const one = new Float64Array(count);
  for (let draw = 0; draw < draws; draw += 1) {
    let log = 0;
    for (let k = 0; k < count; k += 1) {
      one[k] = WIDEN * normals[k]![draw]!;
      log += normals[k]![draw]! ** 2 / 2;
    }
    solveTransposed(lower, one, count);
    for (let k = 0; k < count; k += 1) {
      const normal = middle[k]! + one[k]!;
      log -= normal ** 2 / 2;
      normals[k]![draw] = normal;
    }
    logs[draw] = log;
  }
  return { normals, logs };
}

function weighed(
  cloud: SupplyCloud,
  drawn: Float64Array,
  measurements: readonly Measurement[],
): MeasuredCloud {
  const weights = measurements.reduce(
    (weights, measurement) => weighedBy(cloud, weights, measurement),
    weightsOf(drawn),
  );
  return told({ cloud, weights, measurements, contradicted: [], drawn });
}

function weighedBy(cloud: SupplyCloud, weights: Weights, measurement: Measurement): Weights {
  const { point, value, standardUncertainty } = measurement;
  return reweigh(weights, cloud.results[point]!, value, standardUncertainty);
}

/** Says which measurements the cloud doesn't come near. */
function told(measured: MeasuredCloud): MeasuredCloud {
  const { shares } = measured.weights;
  const contradicted = measured.measurements
    .filter(({ point, value, standardUncertainty }) => {
      const column = measured.cloud.results[point]!;
      let mean = 0;
      for (let draw = 0; draw < shares.length; draw += 1) mean += shares[draw]! * column[draw]!;
      return Math.abs(mean - value) > CONTRADICTS * standardUncertainty;
    })
    .map(({ point }) => point);
  return { ...measured, contradicted };
}

function checkMeasurement(
  { point, value, standardUncertainty }: Measurement,
  { results }: SupplyCloud,
): void {
  if (!Object.hasOwn(results, point)) throw new RangeError(`the supply has no test point ${point}`);
  if (!Number.isFinite(value)) {
    throw new RangeError(`${point}: a measured value must be a finite number, not ${value}; leave it out`);
  }
  if (!(standardUncertainty > 0 && standardUncertainty < Infinity)) {
    throw new RangeError(
      `${point}: a standard uncertainty must be above 0, not ${standardUncertainty}; take at least the meter's last digit over the root of 12`,
    );
  }
}
