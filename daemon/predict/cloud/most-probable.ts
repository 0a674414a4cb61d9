import { cholesky, solveCholesky } from './cholesky.js';

/** A calculation of `results` numbers from standard normal numbers. */
export type Response = (standardNormals: Float64Array, results: Float64Array) => void;

/** A measured number of a response. */
export interface Target {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** A normal distribution by its middle and the Cholesky factor of its covariance's inverse (lower, row by row). */
export interface NormalPlace {
  readonly middle: Float64Array;
  readonly lower: Float64Array;
}

const MOST_STEPS = 12;
/** Standard deviations: a middle that moves less is found. */
const SETTLED = 1e-3;
/** Standard deviations that the response is sounded over; wide enough to pass over a kink. */
const SOUNDING = 0.05;
/** No step goes further than this, in standard deviations. */
const LONGEST_STEP = 2;

/**
 * Where standard normal numbers most probably are once some of their results were measured, and how far around: the
 * mode of the posterior by Gauss-Newton steps, and the normal distribution of its curvature (Laplace's approximation;
 * Tierney and Kadane, Journal of the American Statistical Association 81 (1986) 82-86).
 */
export function mostProbable(response: Response, count: number, targets: readonly Target[]): NormalPlace {
  const middle = new Float64Array(count);
  let curvature = identity(count);
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const found = sound(response, middle, targets);
    curvature = found.curvature;
    const move = solveCholesky(cholesky(curvature, count), found.slope, count);
    const longest = Math.max(...move.map(Math.abs));
    const share = Math.min(1, LONGEST_STEP / longest);
    for (let k = 0; k < count; k += 1) middle[k]! += share * move[k]!;
    if (longest < SETTLED) break;
  }
  return { middle, lower: cholesky(curvature, count) };
}

/** Slope of the log posterior at a point, and its curvature with the sign turned (Gauss-Newton). */
function sound(
  response: Response,
  at: Float64Array,
  targets: readonly Target[],
): { slope: Float64Array; curvature: Float64Array } {
  const count = at.length;
  const results = new Float64Array(targets.length);
  response(at, results);
  const slope = at.map((value) => -value);
  const curvature = identity(count);
  const gradients = targets.map(() => new Float64Array(count));
  const moved = at.slice();
  const there = new Float64Array(targets.length);
  for (let k = 0; k < count; k += 1) {
    moved[k] = at[k]! + SOUNDING;
    response(moved, there);
    moved[k] = at[k]!;
    targets.forEach(({ standardUncertainty }, row) => {
      gradients[row]![k] = (there[row]! - results[row]!) / SOUNDING / standardUncertainty;
    });
  }
  targets.forEach(({ value, standardUncertainty }, row) => {
    const gradient = gradients[row]!;
    const off = (value - results[row]!) / standardUncertainty;
    for (let k = 0; k < count; k += 1) {
      slope[k]! += gradient[k]! * off;
      for (let other = 0; other < count; other += 1) {
        curvature[k * count + other]! += gradient[k]! * gradient[other]!;
      }
    }
  });
  return { slope, curvature };
}

function identity(count: number): Float64Array {
  const matrix = new Float64Array(count * count);
  for (let k = 0; k < count; k += 1) matrix[k * count + k] = 1;
  return matrix;
}
