import { HEALTHY } from './clouds.js';

/**
 * How often a supply on its first power-ups has this, compared with the other faults (common practice: slips of the
 * hand such as a misread ring, a slack screw or a forgotten heatsink come before parts that were faulty from new).
 */
const WEIGHTS: Readonly<Record<string, number>> = {
  'diode-open': 2,
  'tap-too-high': 1,
  'tap-too-low': 1,
  'reservoir-dried': 3,
  'follower-shorted': 1,
  'regulator-passes-input': 2,
  'adjust-open': 2,
  'adjust-grounded': 1,
  'r2-too-large': 2,
  'r2-too-small': 2,
  overload: 3,
  'heatsink-missing': 2,
  'heatsink-loose': 3,
  'sensor-off': 3,
};
const UNLISTED = 1;

/** Before anything is measured, half of the supplies are in order (common practice), and a few have something unknown. */
const HEALTHY_SHARE = 0.5;
export const OTHER_SHARE = 0.03;

/** The prior probability of each, in the order given; with the floor for the unknown they sum to 1. */
export function priorsOf(faults: readonly string[]): number[] {
  const weights = faults.map((fault) => (fault === HEALTHY ? 0 : (WEIGHTS[fault] ?? UNLISTED)));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const healthy = total === 0 ? 1 - OTHER_SHARE : HEALTHY_SHARE;
  return faults.map((fault, at) =>
    fault === HEALTHY ? healthy : ((1 - OTHER_SHARE - healthy) * weights[at]!) / total,
  );
}
