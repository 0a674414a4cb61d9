import type { AlarmFacts, Priority } from './alarm.js';
import { alarmState } from './alarm-state.js';
import { conformanceProbability, crossedLimit, leaningOf } from './compare.js';
import type { Leaning, Verdict } from './effects.js';
import { expectedPrediction } from './expected.js';
import type { Range } from './forecast/forecast.js';
import { predictionOf } from './sample.js';
import type { MovingBecause } from './settling/settling.js';
import type { PointState, ReadingMark, WatchState } from './state.js';

/** How a test point stands now. */
export interface PointStanding {
  readonly id: string;
  /** Which channel is on it, `meter volts`; null when nobody measures it. */
  readonly measuredBy: string | null;
  /** In the point's unit; null when the last reading had no number or came in another unit. */
  readonly value: number | null;
  readonly mark: ReadingMark | null;
  readonly atMs: number | null;
  readonly verdict: Verdict | null;
  /** Of a doubtful value: on which side of the edge it lies, and how probably the true value lies in the band. */
  readonly doubt?: Doubt;
  /** Why a value that stands there isn't judged, or is on its way. */
  readonly moving?: MovingBecause;
  /** No reading for more than three intervals: the value must not be shown as good. */
  readonly stale: boolean;
  /** Where a temperature is going, 90 %; nothing: can't tell, or not a temperature with a limit. */
  readonly settles?: Range;
  /** The slowest time constant of that way, 90 %, s. */
  readonly settlesWithin?: Range;
  /** A person reads its instrument and types what it shows. */
  readonly typed?: true;
}

export interface Doubt {
  readonly leaning: Leaning;
  /** 0 to 1. */
  readonly probability: number;
}

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 1, low: 2 };

/** Every test point, in the order of the prediction, then those that only a probe named. */
export function pointStandings(state: WatchState): readonly PointStanding[] {
  return state.points.map((point) => standingOf(state, point));
}

/** One test point; undefined when nothing was ever said about it. */
export function pointStanding(state: WatchState, id: string): PointStanding | undefined {
  const point = Object.hasOwn(state.pointIndex, id) ? state.points[state.pointIndex[id] ?? -1] : undefined;
  return point === undefined ? undefined : standingOf(state, point);
}

/**
 * Every alarm that isn't normal, worst first: unacknowledged before acknowledged, then by priority, then the newest.
 * Suppressed and shelved ones come last.
 */
export function alarmList(state: WatchState): readonly AlarmFacts[] {
  return [...state.alarms].sort(
    (a, b) =>
      attention(a) - attention(b) ||
      RANK[a.priority] - RANK[b.priority] ||
      b.raisedAtMs - a.raisedAtMs ||
      (a.id < b.id ? -1 : 1),
  );
}

function attention(alarm: AlarmFacts): number {
  const state = alarmState(alarm);
  if (state === 'shelved' || state === 'suppressed') return 2;
  return alarm.acknowledged ? 1 : 0;
}

function standingOf(state: WatchState, point: PointState): PointStanding {
  const channel = point.channel === null ? undefined : state.channels[point.channel];
  const typed = point.channel !== null && state.plan.channels[point.channel]?.typed === true;
  const { id, value, mark, atMs, verdict, forecast } = point;
  return {
    id,
    measuredBy: channel === undefined ? null : `${channel.instrument} ${channel.channel}`,
    value,
    mark,
    atMs,
    verdict,
    ...doubtOf(state, point),
    ...(value !== null && point.settling?.kind === 'moving' && { moving: point.settling.because }),
    stale: channel?.stale ?? false,
    ...(forecast !== null &&
      channel?.stale === false && { settles: forecast.settled, settlesWithin: forecast.timeConstantS }),
    ...(typed && { typed }),
  };
}

function doubtOf(state: WatchState, { id, value, guard, verdict }: PointState): { readonly doubt?: Doubt } {
  if (verdict !== 'doubtful' || value === null) return {};
  const expected = predictionOf(expectedPrediction(state.plan.prediction, state.expecting), id);
  if (expected === undefined || crossedLimit(value, expected.limits) !== null) return {};
  const low = expected.coldest ?? expected.low;
  const probability = conformanceProbability(value, low, expected.high, guard);
  return { doubt: { leaning: leaningOf(value, low, expected.high), probability } };
}
