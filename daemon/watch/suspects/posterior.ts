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
  /** Natural logarithm of the density of the readings among all of it, in their points' units. */
  readonly logDensity: number;
}

/** One reading in a hundred is not what it seems: a probe on the wrong pin, a misread range (common practice). */
const ODD_SHARE = 0.01;
/** Of an unknown fault: it leaves half of the points as they were. */
const UNTOUCHED_SHARE = 0.5;
/** The unknown may also read beyond everything known, on the scale. */
const BEYOND = 3;

/**
 * How probable each suspect is. Each component's normal density, widened by the doubt of the readings; any one reading
 * may be odd and then tells nothing, so that it can't rule out a fault that all others speak for. A supply that is
 * healthy but for one odd reading counts as unknown: who is told that nothing is wrong looks no further.
 */
export function posterior({ suspects, points, healthy }: SuspectModel, marks: readonly Mark[]): Posterior {
  const found: Hypothesis[] = suspects.flatMap(({ prior, components }, suspect) =>
    components.flatMap((component) => {
      const logPrior = Math.log(prior * component.share);
      const { whole, without } = likelihood(component, marks, points);
      const odd = suspect === healthy ? UNKNOWN : { suspect, component };
      return [
        { suspect, component, odd: null, log: logPrior + whole },
        ...without.map((log, row) => ({ ...odd, odd: row, log: logPrior + log })),
      ];
    }),
  );
  found.push({ ...UNKNOWN, odd: null, log: Math.log(OTHER_SHARE) + logOther(marks, points) });
  const total = logOfSum(found.map(({ log }) => log));
  const sums = suspects.map(() => 0);
  const odds = marks.map(() => 0);
  const answers = new Map<Component, Answer>();
  let other = 0;
  for (const { suspect, component, odd, log } of found) {
    const share = Math.exp(log - total);
    if (odd !== null) odds[odd]! += share;
    if (component === null) {
      other += share;
      continue;
    }
    sums[suspect]! += share;
    const probability = share + (answers.get(component)?.probability ?? 0);
    answers.set(component, { suspect, component, probability });
  }
  return {
    suspects: sums,
    other,
    odd: odds,
    answers: [...answers.values()],
    logDensity: total + marks.reduce((sum, { perUnit }) => sum + Math.log(perUnit), 0),
  };
}

/** One way in which the readings can have come about. */
interface Hypothesis {
  /** -1 for the unknown. */
  readonly suspect: number;
  readonly component: Component | null;
  /** Place among the marks of the reading that is odd. */
  readonly odd: number | null;
  readonly log: number;
}

const UNKNOWN = { suspect: -1, component: null };

/**
 * Logarithms of the probability density of the readings among supplies of this component: with none of them odd, and
 * with each one odd.
 */
function likelihood(
  component: Component,
  marks: readonly Mark[],
  points: readonly MeasurablePoint[],
): { whole: number; without: number[] } {
  const count = marks.length;
  const { lower, off } = marked(component, marks);
  const pull = solveCholesky(lower, off, count);
  let distance = 0;
  let logDeterminant = 0;
  for (let row = 0; row < count; row += 1) {
    distance += off[row]! * pull[row]!;
    logDeterminant += 2 * Math.log(lower[row * count + row]!);
  }
  const seemly = count * Math.log1p(-ODD_SHARE);
  const whole = -(distance + logDeterminant + count * LOG_TWO_PI) / 2;
  const without = marks.map(({ place }, row) => {
    // Without one reading: Rasmussen and Williams, Gaussian Processes for Machine Learning (2006), 5.4.2.
    const unit = new Float64Array(count);
    unit[row] = 1;
    const precision = solveCholesky(lower, unit, count)[row]!;
    const own = normalLogDensity(pull[row]! / precision, 1 / precision);
    return whole - own - Math.log(reach(points[place]!)) + Math.log(ODD_SHARE / (1 - ODD_SHARE)) + seemly;
  });
  return { whole: whole + seemly, without };
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
