import { solveCholesky } from '../../predict/cloud/cholesky.js';
import { marked } from './conditional.js';
import type { Component, MeasurablePoint, SuspectModel } from './model.js';
import { logOfSum, normalLogDensity } from './normal-mixture.js';
import { OTHER_SHARE } from './priors.js';
import type { Mark } from './settled.js';

/** What one component says to the readings. */
export interface Answer {
  readonly suspect: number;
  readonly component: Component;
  /** Of everything, the floor for the unknown included. */
  readonly probability: number;
}

export interface Posterior {
  /** In the model's order; with `other` they sum to 1. */
  readonly suspects: readonly number[];
  readonly other: number;
  /** For each reading: that it is odd, and tells nothing about the supply. */
  readonly odd: readonly number[];
  readonly answers: readonly Answer[];
}

/** One reading in a hundred is not what it seems: a probe on the wrong pin, a misread range (common practice). */
const ODD_SHARE = 0.01;
/** Of an unknown fault: it leaves half of the points as they were. */
const UNTOUCHED_SHARE = 0.5;
/** The unknown may also read beyond everything known, on the scale. */
const BEYOND = 3;

/**
 * How probable each suspect is. Each component's normal density, widened by the doubt of the readings; any one reading
 * may be odd and then tells nothing, so that it can't rule out what all others speak for.
 */
export function posterior({ suspects, points }: SuspectModel, marks: readonly Mark[]): Posterior {
  const logs: number[] = [];
  const found: { suspect: number; component: Component; odd: number[] }[] = [];
  suspects.forEach(({ prior, components }, suspect) => {
    for (const component of components) {
      const { log, odd } = likelihood(component, marks, points);
      logs.push(Math.log(prior * component.share) + log);
      found.push({ suspect, component, odd });
    }
  });
  logs.push(Math.log(OTHER_SHARE) + logOther(marks, points));
  const shares = normalised(logs);
  const sums = suspects.map(() => 0);
  const odds = marks.map(() => 0);
  const answers = found.map(({ suspect, component, odd }, at) => {
    const probability = shares[at]!;
    sums[suspect]! += probability;
    odd.forEach((share, row) => (odds[row]! += probability * share));
    return { suspect, component, probability };
  });
  return { suspects: sums, other: shares.at(-1)!, odd: odds, answers };
}

/** Logarithm of the density of the readings among supplies of this component, and how probably each is odd. */
function likelihood(
  component: Component,
  marks: readonly Mark[],
  points: readonly MeasurablePoint[],
): { log: number; odd: number[] } {
  const count = marks.length;
  const { lower, off } = marked(component, marks);
  const pull = solveCholesky(lower, off, count);
  let distance = 0;
  let logDeterminant = 0;
  for (let row = 0; row < count; row += 1) {
    distance += off[row]! * pull[row]!;
    logDeterminant += 2 * Math.log(lower[row * count + row]!);
  }
  const whole = -(distance + logDeterminant + count * LOG_TWO_PI) / 2;
  const odd = Math.log(ODD_SHARE) + (count - 1) * Math.log1p(-ODD_SHARE);
  const logs = [whole + count * Math.log1p(-ODD_SHARE)];
  for (let row = 0; row < count; row += 1) {
    // Without one reading: Rasmussen and Williams, Gaussian Processes for Machine Learning (2006), 5.4.2.
    const unit = new Float64Array(count);
    unit[row] = 1;
    const precision = solveCholesky(lower, unit, count)[row]!;
    const own = normalLogDensity(pull[row]! / precision, 1 / precision);
    logs.push(whole - own + odd - Math.log(reach(points[marks[row]!.place]!)));
  }
  const [, ...shares] = normalised(logs);
  return { log: logOfSum(logs), odd: shares };
}

/** An unknown fault: each point is as if healthy, or anywhere. */
function logOther(marks: readonly Mark[], points: readonly MeasurablePoint[]): number {
  return marks.reduce((sum, mark) => sum + Math.log(otherDensity(mark.value, points[mark.place]!)), 0);
}

/** On the scale a healthy point is near standard normal. */
export function otherDensity(value: number, point: MeasurablePoint): number {
  const healthy = Math.exp(normalLogDensity(value, 1));
  return UNTOUCHED_SHARE * healthy + (1 - UNTOUCHED_SHARE) / reach(point);
}

function reach({ low, high }: MeasurablePoint): number {
  return high - low + 2 * BEYOND;
}

const LOG_TWO_PI = Math.log(2 * Math.PI);

function normalised(logs: readonly number[]): number[] {
  const total = logOfSum(logs);
  return logs.map((log) => Math.exp(log - total));
}
