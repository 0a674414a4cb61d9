import type { PointView } from '../daemon/serve/messages.js';

/** How a test point stands, as one word of a fixed set: the verdict, or why there is none. */
export type Standing =
  | 'inside'
  | 'doubtful'
  | 'outside'
  | 'overload'
  | 'unreadable'
  | 'stale'
  | 'waiting'
  | 'not-measured'
  | 'not-live';

/** The word shown beside the shape. */
export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  inside: 'inside',
  doubtful: 'doubtful',
  outside: 'outside',
  overload: 'overload',
  unreadable: 'no number',
  stale: 'stale',
  waiting: 'waiting',
  'not-measured': 'not measured',
  'not-live': 'not live',
};

/** Worst first: what a person should be told about before anything else. */
const WORST_FIRST: readonly Standing[] = [
  'outside',
  'overload',
  'stale',
  'unreadable',
  'doubtful',
  'not-live',
  'waiting',
  'inside',
  'not-measured',
];

/**
 * How `point` stands. When the page isn't live, every point that had a value is `not-live`, whatever was last
 * said about it. A stale, marked or missing value is never given a verdict.
 */
export function standingOf(point: PointView, live: boolean): Standing {
  if (point.measuredBy === null) return 'not-measured';
  if (!live) return 'not-live';
  if (point.stale) return 'stale';
  if (point.mark === 'overload') return 'overload';
  if (point.mark !== null) return 'unreadable';
  if (point.value === null || point.verdict === null) return 'waiting';
  return point.verdict;
}

/** The word for how `point` stands; a temperature that is inside because it is still warming up says so, and a value that isn't judged because it moves. */
export function standingWords(point: PointView, standing: Standing): string {
  if (standing === 'waiting' && point.value !== null && point.moving !== null) return 'settling';
  const isWarming = standing === 'inside' && point.unit === 'degC' && (point.value ?? point.low) < point.low;
  return isWarming ? 'warming up' : STANDING_WORDS[standing];
}

/** The worst of several standings; `not-measured` when there are none. */
export function worstStanding(standings: readonly Standing[]): Standing {
  return WORST_FIRST.find((standing) => standings.includes(standing)) ?? 'not-measured';
}
