import type { AlarmFacts, Priority } from './alarm.js';
import { alarmState } from './alarm-state.js';
import type { Verdict } from './effects.js';
import type { Range } from './forecast/forecast.js';
import { goingOf, type Going } from './forecast/going.js';
import type { MovingBecause } from './settling/settling.js';
import { pointOf, type PointState, type ReadingMark, type WatchState } from './state.js';

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
  /** Why a value isn't judged, or that it is on its way; null when it stands still or there is none. */
  readonly moving: MovingBecause | null;
  /** No reading for more than three intervals: the value must not be shown as good. */
  readonly stale: boolean;
  /** Where a temperature is going, 90 %; nothing: can't tell, or not a temperature with a limit. */
  readonly settles?: Range;
  /** How it stands to that; there whenever it is, and a value. */
  readonly going?: Going;
  /** The slowest time constant of that way, 90 %, s. */
  readonly settlesWithin?: Range;
  /** A person reads its instrument and types what it shows. */
  readonly typed?: true;
}

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 1, low: 2 };

/** Every test point, in the order of the prediction, then those that only a probe named. */
export function pointStandings(state: WatchState): readonly PointStanding[] {
  return state.points.map((point) => standingOf(state, point));
}

/** One test point; undefined when nothing was ever said about it. */
export function pointStanding(state: WatchState, id: string): PointStanding | undefined {
  const point = pointOf(state, id);
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
    moving: value !== null && point.settling?.kind === 'moving' ? point.settling.because : null,
    stale: channel?.stale ?? false,
    ...(forecast !== null &&
      channel?.stale === false && {
        settles: forecast.settled,
        settlesWithin: forecast.timeConstantS,
        ...(value !== null && { going: goingOf(forecast, value) }),
      }),
    ...(typed && { typed }),
  };
}
