import type { Accuracy } from '../design/bench.js';
import type { Limit, PointPrediction } from '../predict/prediction.js';
import type { Leaning, Verdict } from './effects.js';
import { normalCumulative } from '../predict/cloud/normal-distribution.js';

/**
 * Half-width U of the interval in which the true value lies (k = 2, about 95 %): percent of the reading plus
 * counts of the last digit, as meter makers state it. 0 when nothing is known of the meter.
 */
export function halfWidth(value: number, accuracy: Accuracy | undefined): number {
  if (accuracy === undefined) return 0;
  const { percent, counts, resolution } = rangeOf(value, accuracy);
  return (Math.abs(value) * percent) / 100 + counts * (resolution ?? 0);
}

/** What one count of the meter is at this value; 0 when nothing is known of the meter. */
export function resolutionAt(value: number, accuracy: Accuracy | undefined): number {
  return accuracy === undefined ? 0 : (rangeOf(value, accuracy).resolution ?? 0);
}

/** The smallest range that holds the value: meters choose it by themselves, and so do people. */
function rangeOf(value: number, accuracy: Accuracy): Pick<Accuracy, 'percent' | 'counts' | 'resolution'> {
  const { ranges } = accuracy;
  if (ranges === undefined) return accuracy;
  const size = Math.abs(value);
  for (const range of ranges) if (size <= range.up_to) return range;
  return accuracy;
}

/** At a limit counts as beyond it. */
export function isBeyond(value: number, limit: Limit): boolean {
  return limit.side === 'high' ? value >= limit.value : value <= limit.value;
}

/**
 * The gravest limit that the bare value is at or beyond, null when there is none: damage before rating, then
 * the one that lies furthest out.
 */
export function crossedLimit(value: number, limits: readonly Limit[]): Limit | null {
  let gravest: Limit | null = null;
  for (const limit of limits) {
    if (isBeyond(value, limit) && (gravest === null || isGraver(limit, gravest, value))) gravest = limit;
  }
  return gravest;
}

function isGraver(limit: Limit, than: Limit, value: number): boolean {
  if (limit.kind !== than.kind) return limit.kind === 'damage';
  return Math.abs(value - limit.value) < Math.abs(value - than.value);
}

/**
 * A value against a band with a guard band w = U on either side of each edge (JCGM 106:2012, ILAC-G8):
 * `inside` when the whole of value ± U lies in the band, `outside` when all of it lies out, else `doubtful`.
 */
export function bandVerdict(value: number, low: number, high: number, guard: number): Verdict {
  if (value >= low + guard && value <= high - guard) return 'inside';
  return isOutsideBand(value, low, high, guard) ? 'outside' : 'doubtful';
}

/** The four outcomes of ILAC-G8:09/2019 with a guard band w = U on either side of each edge. */
export type Outcome = 'pass' | 'conditional-pass' | 'conditional-fail' | 'fail';

const OUTCOMES = {
  inside: { inside: 'pass', outside: 'pass' },
  doubtful: { inside: 'conditional-pass', outside: 'conditional-fail' },
  outside: { inside: 'fail', outside: 'fail' },
} as const;

/** The verdict on a value against a band, with the side of the edge on which a doubtful one lies. */
export function outcomeOf(value: number, low: number, high: number, guard: number): Outcome {
  return OUTCOMES[bandVerdict(value, low, high, guard)][leaningOf(value, low, high)];
}

/** On which side of the edge the bare value lies; at the edge it is in. */
export function leaningOf(value: number, low: number, high: number): Leaning {
  return value >= low && value <= high ? 'inside' : 'outside';
}

/** Whether the whole of value ± U lies out of the band. */
export function isOutsideBand(value: number, low: number, high: number, guard: number): boolean {
  return value > high + guard || value < low - guard;
}

/**
 * The verdict on a value: limits first and on the bare value, then the band with the meter's accuracy. A temperature
 * that is still warming up is as predicted.
 */
export function verdictOf(
  value: number,
  prediction: Pick<PointPrediction, 'low' | 'high' | 'coldest' | 'limits'>,
  guard: number,
): Verdict {
  if (crossedLimit(value, prediction.limits) !== null) return 'outside';
  return bandVerdict(value, prediction.coldest ?? prediction.low, prediction.high, guard);
}

/**
 * Probability that the true value lies in the band: Phi((high - y) / u) - Phi((low - y) / u) with the standard
 * uncertainty u = U / 2 (JCGM 106:2012).
 */
export function conformanceProbability(value: number, low: number, high: number, guard: number): number {
  if (guard === 0) return value >= low && value <= high ? 1 : 0;
  const standardUncertainty = guard / 2;
  return (
    normalCumulative((high - value) / standardUncertainty) -
    normalCumulative((low - value) / standardUncertainty)
  );
}
