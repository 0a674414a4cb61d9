import { quantiles } from '../../predict/cloud/quantiles.js';
import type { PointUnit } from '../../predict/prediction.js';
import { HEALTHY, RIPPLE_HERTZ } from './clouds.js';
import type { SizeCloud, SuspectCloud } from './clouds.js';
import { PARAMETERS } from './parameters.js';
import { priorsOf } from './priors.js';
import { modelDoubt, scaled } from './scale.js';
import type { Scale } from './scale.js';

/** What a person can put a probe on. */
export interface MeasurablePoint {
  readonly id: string;
  readonly unit: PointUnit;
  readonly scale: Scale;
  /** On the scale: the ends of what any of the clouds reads. */
  readonly low: number;
  readonly high: number;
}

/**
 * Supplies with a fault of one size as one normal distribution: first the points on their scales, then the parameters.
 */
export interface Component {
  /** Of the suspect's probability; a suspect's components sum to 1. */
  readonly share: number;
  readonly mean: Float64Array;
  /** Row by row. */
  readonly covariance: Float64Array;
}

export interface SuspectDistribution {
  readonly fault: string;
  readonly about: string;
  readonly title: string;
  readonly prior: number;
  readonly components: readonly Component[];
}

/** Everything that `judge` needs of the clouds; the clouds themselves can go. */
export interface SuspectModel {
  readonly points: readonly MeasurablePoint[];
  readonly suspects: readonly SuspectDistribution[];
  /** Place of the healthy one among the suspects. */
  readonly healthy: number;
}

/** No test points: what is inside a part, or is worked out from other points. */
const UNREACHABLE = /\.(junction|dissipation|headroom|peak)$/;

/**
 * Makes the distributions of all suspects, once for a design and load.
 * @throws {RangeError} when the healthy cloud isn't among them.
 */
export function beginSuspects(clouds: readonly SuspectCloud[]): SuspectModel {
  const healthy = clouds.findIndex(({ fault }) => fault === HEALTHY);
  const healthySize = clouds[healthy]?.runs[0]?.[0];
  if (healthySize === undefined) {
    throw new RangeError('the suspects have no healthy cloud to be compared with; give it along');
  }
  const points = Object.keys(healthySize.cloud.results)
    .filter((id) => !UNREACHABLE.test(id))
    .map((id) => measurable(id, healthySize, clouds));
  const priors = priorsOf(clouds.map(({ fault }) => fault));
  const suspects = clouds.map(({ fault, about, title, runs }, at) => ({
    fault,
    about,
    title,
    prior: priors[at]!,
    components: runs.flatMap((sizes) => components(sizes, 1 / runs.length, points)),
  }));
  return { points, suspects, healthy };
}

/** The ripple's frequency takes a scope, so it is asked for only where the caller says that there is one. */
export function testPoints({ points }: SuspectModel): ReadonlySet<string> {
  return new Set(points.map(({ id }) => id).filter((id) => id !== RIPPLE_HERTZ));
}

function measurable(id: string, healthy: SizeCloud, clouds: readonly SuspectCloud[]): MeasurablePoint {
  const unit = healthy.units[id]!;
  const [below = NaN, middle = NaN, above = NaN] = quantiles(healthy.cloud.results[id]!, [0.16, 0.5, 0.84]);
  const scale = { middle, spread: Math.hypot((above - below) / 2, modelDoubt(middle, unit)) };
  let low = Infinity;
  let high = -Infinity;
  for (const { cloud } of clouds.flatMap(({ runs }) => runs.flat())) {
    for (const value of cloud.results[id]!) {
      low = Math.min(low, value);
      high = Math.max(high, value);
    }
  }
  return { id, unit, scale, low: scaled(low, scale), high: scaled(high, scale) };
}

/** A normal distribution for each size, widened so that they cover what lies between two of them. */
function components(
  sizes: readonly SizeCloud[],
  share: number,
  points: readonly MeasurablePoint[],
): Component[] {
  const fitted = sizes.map((size) => fit([...pointColumns(size, points), ...parameterColumns(size)]));
  return fitted.map(({ mean, covariance }, at) => {
    const before = fitted[at - 1]?.mean ?? mean;
    const after = fitted[at + 1]?.mean ?? mean;
    const steps = (at > 0 ? 1 : 0) + (at + 1 < fitted.length ? 1 : 0);
    const widened = covariance.slice();
    for (let row = 0; row < mean.length && steps > 0; row += 1) {
      for (let column = 0; column < mean.length; column += 1) {
        // Variance of an even spread one step wide.
        const gap = ((after[row]! - before[row]!) * (after[column]! - before[column]!)) / steps ** 2;
        widened[row * mean.length + column]! += gap / 12;
      }
    }
    return { share: share / fitted.length, mean, covariance: widened };
  });
}

function pointColumns({ cloud }: SizeCloud, points: readonly MeasurablePoint[]): Float64Array[] {
  return points.map(({ id, scale }) => cloud.results[id]!.map((value) => scaled(value, scale)));
}

function parameterColumns(size: SizeCloud): Float64Array[] {
  return PARAMETERS.map(({ column }) => column(size));
}

function fit(columns: readonly Float64Array[]): { mean: Float64Array; covariance: Float64Array } {
  const count = columns.length;
  const mean = Float64Array.from(
    columns,
    (column) => column.reduce((sum, each) => sum + each, 0) / column.length,
  );
  const covariance = new Float64Array(count * count);
  for (let row = 0; row < count; row += 1) {
    const a = columns[row]!;
    for (let other = 0; other <= row; other += 1) {
      const b = columns[other]!;
      let sum = 0;
      for (let draw = 0; draw < a.length; draw += 1)
        sum += (a[draw]! - mean[row]!) * (b[draw]! - mean[other]!);
      covariance[row * count + other] = covariance[other * count + row] = sum / (a.length - 1);
    }
  }
  return { mean, covariance };
}
