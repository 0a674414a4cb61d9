import type { PointView, SettledView } from '../daemon/serve/messages.js';

/** Half a band that covers 95 %, in standard deviations. */
const DEVIATIONS_95 = 1.96;
/** Another point must fit so many times better than the one that was asked for before anybody is asked. */
const CLEARLY_BETTER = 20;
/** A probe in the air reads next to nothing of what was there. */
const LIFTED_SHARE = 0.2;

/** One round of a probe over the test points. */
export interface Round {
  readonly instrument: string;
  readonly channel: string;
  /** In the order of the supply. */
  readonly points: readonly string[];
  /** Where the probe is asked to go, or is. */
  readonly at: number;
  readonly done: readonly string[];
  readonly phase:
    | { readonly kind: 'awaits' }
    /** Reads what another point should: a person is asked. */
    | { readonly kind: 'asks'; readonly value: number; readonly other: string }
    /** The verdict was told; when the probe is lifted the next point is announced. */
    | { readonly kind: 'told'; readonly value: number }
    | { readonly kind: 'over' };
}

/** What there is to say or to do. */
export type FollowAct =
  | { readonly kind: 'announce'; readonly point: string }
  | { readonly kind: 'verdict'; readonly point: string; readonly value: number }
  | { readonly kind: 'ask'; readonly point: string; readonly other: string; readonly value: number }
  | { readonly kind: 'move'; readonly point: string }
  | { readonly kind: 'finished'; readonly count: number };

export interface Followed {
  readonly round: Round;
  readonly acts: readonly FollowAct[];
}

/** Begins at the first of `points`. */
export function beginRound(instrument: string, channel: string, points: readonly string[]): Followed {
  const round: Round = { instrument, channel, points, at: 0, done: [], phase: { kind: 'awaits' } };
  return points.length === 0 ? finished(round) : { round, acts: arriveAt(points[0]!) };
}

/** The probe's readings stand still. */
export function probeSettled(round: Round, settled: SettledView, points: readonly PointView[]): Followed {
  const here = round.points[round.at];
  if (round.phase.kind !== 'awaits' || settled.point !== here) return { round, acts: [] };
  const { value } = settled;
  const other = fitsBetter(settled, round, points);
  if (other !== null) {
    return {
      round: { ...round, phase: { kind: 'asks', value, other } },
      acts: [{ kind: 'ask', point: here, other, value }],
    };
  }
  return told(round, here, value);
}

/** A reading of the point where the probe is; without a number, or near nothing, it has been lifted. */
export function probeRead(round: Round, value: number | null): Followed {
  if (round.phase.kind !== 'told') return { round, acts: [] };
  const isLifted = value === null || Math.abs(value) < LIFTED_SHARE * Math.abs(round.phase.value);
  return isLifted ? goOn(round) : { round, acts: [] };
}

/** A person says yes to a question, or wants to go on. */
export function forward(round: Round): Followed {
  if (round.phase.kind !== 'asks') return goOn(round);
  const { other, value } = round.phase;
  const moved = { ...round, at: round.points.indexOf(other) };
  const { round: after, acts } = told(moved, other, value);
  return { round: after, acts: [{ kind: 'move', point: other }, ...acts] };
}

/** A person says no to a question, or wants to go back. */
export function back(round: Round): Followed {
  const here = round.points[round.at];
  if (round.phase.kind === 'asks' && here !== undefined) return told(round, here, round.phase.value);
  const at = Math.max(0, (round.phase.kind === 'over' ? round.points.length : round.at) - 1);
  const point = round.points[at];
  if (point === undefined) return { round, acts: [] };
  const done = round.done.filter((id) => id !== point);
  return { round: { ...round, at, done, phase: { kind: 'awaits' } }, acts: arriveAt(point) };
}

/**
 * The point of the same unit that was not measured yet and that the value fits clearly better than the one that was
 * asked for; null when there is none. How well: the density of a normal distribution of the predicted band, the
 * reading's own uncertainty added to its variance.
 */
export function fitsBetter(
  { point, value, standardUncertainty }: SettledView,
  { points: order, done }: Pick<Round, 'points' | 'done'>,
  points: readonly PointView[],
): string | null {
  const here = points.find(({ id }) => id === point);
  if (here === undefined || (value >= here.low && value <= here.high)) return null;
  const fit = (one: PointView): number => logDensity(value, one, standardUncertainty);
  const others = points.filter(
    ({ id, unit }) => id !== point && unit === here.unit && order.includes(id) && !done.includes(id),
  );
  const best = others.toSorted((a, b) => fit(b) - fit(a))[0];
  if (best === undefined || fit(best) - fit(here) < Math.log(CLEARLY_BETTER)) return null;
  // Nothing fits a value that is far from everything: then the verdict is what counts.
  const reach = (best.high - best.low) / 2;
  return value >= best.low - reach && value <= best.high + reach ? best.id : null;
}

function logDensity(value: number, { low, typical, high }: PointView, uncertainty: number): number {
  const deviation = Math.max(Math.hypot((high - low) / (2 * DEVIATIONS_95), uncertainty), 1e-9);
  return -Math.log(deviation) - 0.5 * ((value - typical) / deviation) ** 2;
}

function told(round: Round, point: string, value: number): Followed {
  return {
    round: { ...round, done: [...new Set([...round.done, point])], phase: { kind: 'told', value } },
    acts: [{ kind: 'verdict', point, value }],
  };
}

/** To the next point that isn't done; from the last one on to those that were passed over. */
function goOn(round: Round): Followed {
  const { points, at } = round;
  const done = round.phase.kind === 'awaits' ? [...round.done, points[at] ?? ''] : round.done;
  const later = points.findIndex((id, i) => i > at && !done.includes(id));
  const next = later >= 0 ? later : points.findIndex((id) => !done.includes(id));
  const point = points[next];
  if (point === undefined) return finished({ ...round, done });
  return { round: { ...round, at: next, done, phase: { kind: 'awaits' } }, acts: arriveAt(point) };
}

function arriveAt(point: string): readonly FollowAct[] {
  return [
    { kind: 'move', point },
    { kind: 'announce', point },
  ];
}

function finished(round: Round): Followed {
  return {
    round: { ...round, phase: { kind: 'over' } },
    acts: round.phase.kind === 'over' ? [] : [{ kind: 'finished', count: round.done.length }],
  };
}
