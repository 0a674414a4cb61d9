import { matchOf, row, SECONDS } from './course-fit.js';

/** How well the case's rise over its heatsink is known, as a share and at least, K. */
const FAST_SHARE = 0.3;
const LEAST_FAST_K = 0.4;
const MOST_OFF = -1.2;

const quick = row();
const both = row();

interface Step {
  /** First block after it, and how many there are in all. */
  readonly place: number;
  readonly count: number;
  /** s before the newest block. */
  readonly momentS: number;
  readonly lagS: number;
  readonly fastK: number;
  readonly varianceK2: number;
}

/**
 * Power added, as a share of the power before, as the slope after the quick part of `pattern` has it: what the quick part
 * was learnt wrong by is free. Least squares with a normal prior on it (C. Bishop, Pattern Recognition, section 3.3). From
 * -1.2 to 0; null where the slope can't tell.
 */
export function addedBySlope(pattern: Float64Array, step: Step): number | null {
  const { place, count, momentS, lagS, fastK, varianceK2 } = step;
  for (let at = place; at < count; at += 1) {
    quick[at] = 1 - Math.exp((momentS - SECONDS[at]!) / lagS);
    both[at] = pattern[at]! + quick[at]!;
  }
  const whole = matchOf(pattern, place, count);
  const fast = matchOf(quick, place, count);
  const product = (matchOf(both, place, count).withItself - whole.withItself - fast.withItself) / 2;
  const missedK = Math.max(LEAST_FAST_K, FAST_SHARE * Math.abs(fastK));
  const divisor = fast.withItself + varianceK2 / (missedK * missedK);
  const withItself = whole.withItself - (product * product) / divisor;
  if (withItself < 1e-9) return null;
  const added = (whole.withBlocks - (product * fast.withBlocks) / divisor) / withItself;
  return Math.min(0, Math.max(MOST_OFF, added));
}
