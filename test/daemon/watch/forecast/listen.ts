import type { Change } from '../../../../daemon/watch/forecast/change.js';
import { NOT_FOLLOWED, type FollowState } from '../../../../daemon/watch/forecast/follow-state.js';
import { followTemperature } from '../../../../daemon/watch/forecast/follow.js';
import type { Forecast } from '../../../../daemon/watch/forecast/forecast.js';
import type { WarmingPrior } from '../../../../daemon/watch/forecast/prior.js';
import { isDetectable } from './detectable.js';
import { causeOf, readingsOf, segmentAt, type Trace } from './traces.js';

export const LIMITS = [70, 85, 105];

/** What was said of one trace. */
export interface Told {
  readonly trace: Trace;
  /** By limit: when it was first said to be ahead, s. */
  readonly ahead: ReadonlyMap<number, number>;
  readonly changes: readonly (readonly [number, Change])[];
  /** Forecasts near half and 85 % of the rise: how far off, K, and whether the 90 % range held the truth. */
  readonly atHalf: readonly Judged[];
  readonly atMost: readonly Judged[];
}

interface Judged {
  readonly offK: number;
  readonly isWithin: boolean;
}

export function listen(trace: Trace, prior: WarmingPrior): Told {
  const ahead = new Map<number, number>();
  const changes: (readonly [number, Change])[] = [];
  const atHalf: Judged[] = [];
  const atMost: Judged[] = [];
  const lifted = trace.truth.sensor_off_s ?? Infinity;
  const context = { prior, limits: LIMITS, resolutionK: trace.lsb_C };
  let state = NOT_FOLLOWED;
  for (const [seconds, celsius] of readingsOf(trace)) {
    const { state: next, news } = followTemperature(state, seconds * 1000, celsius, context);
    state = next;
    if (news === null) continue;
    if (news.change !== null) changes.push([seconds, news.change]);
    if (seconds >= lifted) continue;
    for (const limit of news.heading) if (!ahead.has(limit)) ahead.set(limit, seconds);
    const [share, judged] = judge(trace, state, seconds, celsius, news.forecast);
    if (share > 0.45 && share < 0.55) atHalf.push(judged);
    if (share > 0.83 && share < 0.87) atMost.push(judged);
  }
  return { trace, ahead, changes, atHalf, atMost };
}

/** The share of the rise that is done, NaN where there is no rise to judge, and how good the forecast is. */
function judge(
  trace: Trace,
  { warming }: FollowState,
  seconds: number,
  celsius: number,
  forecast: Forecast | null,
): readonly [number, Judged] {
  const { steady_case_C: steadyC, power_W } = segmentAt(trace, seconds);
  const startC = warming?.fit.startC ?? celsius;
  const isRise = forecast !== null && power_W > 0 && Math.abs(steadyC - startC) >= 10;
  const { low, typical, high } = forecast?.settled ?? { low: NaN, typical: NaN, high: NaN };
  const judged = { offK: Math.abs(typical - steadyC), isWithin: low <= steadyC && steadyC <= high };
  return [isRise ? (celsius - startC) / (steadyC - startC) : NaN, judged];
}

/** Of every limit that stays out of reach, or is not yet in reach: whether it was said to be ahead. */
export function wrongs(all: readonly Told[]): readonly boolean[] {
  return all.flatMap(({ trace, ahead }) =>
    LIMITS.flatMap((limit) => {
      const crossing = trace.truth.crossing_time_s[String(limit)] ?? null;
      const told = ahead.get(limit);
      if (crossing !== null) {
        return told !== undefined && told < causeOf(trace, limit, crossing) - 2 ? [true] : [];
      }
      // Where power went off on the way there, it was ahead.
      const wasAhead = trace.truth.segments.some(({ steady_case_C }) => steady_case_C >= limit);
      return wasAhead ? [] : [told !== undefined];
    }),
  );
}

/** (crossing - told) / (crossing - cause) of every crossing; 0 where it wasn't told in time. */
export function leads(all: readonly Told[]): readonly number[] {
  return all.flatMap(({ trace, ahead }) =>
    LIMITS.flatMap((limit) => {
      const crossing = trace.truth.crossing_time_s[String(limit)] ?? null;
      if (crossing === null || crossing > (trace.truth.sensor_off_s ?? Infinity)) return [];
      const cause = causeOf(trace, limit, crossing);
      const told = ahead.get(limit) ?? crossing;
      return told < cause - 2 ? [] : [Math.max(0, (crossing - told) / (crossing - cause))];
    }),
  );
}

export const middle = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;

export const share = (values: readonly boolean[]): number => values.filter(Boolean).length / values.length;

const HALF_MINUTE = 30;

/** Whether each of the trace's events of this type that can be seen at all was told as one of these changes. */
export function recognised(
  { trace, changes }: Told,
  event: string,
  names: readonly Change[],
): readonly boolean[] {
  if (trace.sample_rate_Hz < 1) return [];
  return trace.truth.events.flatMap(({ type, t_s }) => {
    if (type !== event || t_s === null || !isDetectable(trace, t_s)) return [];
    return [changes.some(([at, name]) => at >= t_s && at <= t_s + HALF_MINUTE && names.includes(name))];
  });
}
