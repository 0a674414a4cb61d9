import type { Limit, PointPrediction, Prediction } from '../predict/prediction.js';
import type { AlarmCause, AlarmFacts } from './alarm.js';
import { pointAlarm, raiseAlarm, returnAlarm, worsenAlarm, type Raising } from './alarms.js';
import type { Draft } from './draft.js';
import { followTemperature } from './forecast/follow.js';
import { NOT_FOLLOWED, type FollowContext, type News } from './forecast/follow-state.js';
import type { Forecast } from './forecast/forecast.js';
import { NOTHING_KNOWN, type WarmingPrior } from './forecast/prior.js';
import { priorityAhead } from './priority.js';
import { isTemperature, type Sample } from './sample.js';
import type { PointState } from './state.js';
import { wasSwitched } from './supply-off.js';

/** Half a band that covers 95 %, in standard deviations. */
const DEVIATIONS_95 = 1.96;
/** Nobody's design is known better than this share of the rise. */
const LEAST_SHARE = 0.1;
/** By so much later than a change of the power it can be recognised in a temperature, ms. */
const SWITCHED_WITHIN_MS = 60_000;
/** A limit that is this unlikely is no longer ahead. */
const UNLIKELY = 0.5;

/** Follows a temperature through one more number: where it is going, whether a limit is ahead, whether the probe fell off or is stuck. */
export function followHeading(draft: Draft, sample: Sample): Pick<PointState, 'following' | 'forecast'> {
  const { point, prediction, value } = sample;
  if (!isTemperature(prediction.unit) || !prediction.limits.some(isUpper)) return NOTHING_TO_FOLLOW;
  const context = contextOf(draft.prediction, prediction, sample.resolution);
  const { state, news } = followTemperature(point.following ?? NOT_FOLLOWED, draft.atMs, value, context);
  if (news === null) return { following: state, forecast: point.forecast };
  draft.tell({
    kind: 'forecast',
    atMs: draft.atMs,
    point: point.id,
    forecast: news.forecast,
    change: news.change,
  });
  followLimitsAhead(draft, sample, news);
  followProbe(draft, sample, news);
  return { following: state, forecast: news.forecast };
}

const NOTHING_TO_FOLLOW = { following: null, forecast: null } as const;

const isUpper = ({ side }: Limit): boolean => side === 'high';

const contexts = new WeakMap<PointPrediction, FollowContext>();

/** The same for every reading of a point, so it is made once. */
function contextOf(prediction: Prediction, point: PointPrediction, resolutionK: number): FollowContext {
  const known = contexts.get(point);
  if (known?.resolutionK === resolutionK) return known;
  const limits = point.limits.filter(isUpper).map(({ value }) => value);
  const context = {
    prior: priorOf(prediction, point),
    limits: limits.toSorted((a, b) => a - b),
    resolutionK,
  };
  contexts.set(point, context);
  return context;
}

function priorOf({ points, parts }: Prediction, { id, low, typical, high }: PointPrediction): WarmingPrior {
  const air = points['ambient.air']?.typical;
  if (air === undefined || typical - air < 1) return NOTHING_KNOWN;
  const riseK = typical - air;
  const deviation = (high - low) / (2 * DEVIATIONS_95);
  const figures = parts[id.slice(0, id.lastIndexOf('.'))];
  const timeConstantS = figures?.['heat_time_constant_s'];
  const watts = figures?.['dissipation_W'];
  return {
    riseK,
    riseDeviationK: Math.max(deviation, LEAST_SHARE * riseK),
    timeConstantS: timeConstantS !== undefined && timeConstantS > 0 ? timeConstantS : null,
    resistanceKPerW: watts !== undefined && watts > 0 ? riseK / watts : null,
    changedConvection: null,
  };
}

function followLimitsAhead(draft: Draft, sample: Sample, { forecast, heading }: News): void {
  const { point, prediction, value } = sample;
  const alarm = pointAlarm(draft, 'heading-over-limit', point.id);
  const ahead = prediction.limits.filter((limit) => isUpper(limit) && heading.includes(limit.value));
  // The nearest one comes first.
  const limit = ahead.filter((one) => one.value > value).toSorted((a, b) => a.value - b.value)[0];
  if (alarm?.active !== true) {
    if (limit !== undefined && forecast !== null) raiseAlarm(draft, raisingOf(sample, limit, forecast));
    return;
  }
  if (forecast === null) return;
  if (forecast.crossings.every(({ probability }) => probability < UNLIKELY)) returnAlarm(draft, alarm);
  else if (limit !== undefined) followSooner(draft, alarm, raisingOf(sample, limit, forecast));
}

/** It asks for its person again once there is no time left. */
function followSooner(draft: Draft, alarm: AlarmFacts, now: Raising): void {
  if (now.priority === 'high' && alarm.priority !== 'high' && alarm.suppressedBy.length === 0) {
    worsenAlarm(draft, { ...alarm, priority: now.priority }, now.cause, false);
  }
}

function raisingOf({ point, value, prediction }: Sample, limit: Limit, forecast: Forecast): Raising {
  const crossing = forecast.crossings.find((one) => one.limit === limit.value);
  return {
    id: `heading-over-limit:${point.id}`,
    cause: {
      kind: 'heading-over-limit',
      point: point.id,
      value,
      unit: prediction.unit,
      limit,
      settled: forecast.settled,
      inS: crossing?.inS ?? null,
    },
    priority: priorityAhead(crossing?.inS?.typical ?? null),
    latched: false,
    suppressedBy: [],
  };
}

type ProbeCause = Extract<AlarmCause, { kind: 'sensor-lifted' | 'stuck-reading' }>;

/** A part whose load or supply was just switched cools too: then a fall says nothing about its probe. */
function followProbe(draft: Draft, { point, prediction, value }: Sample, { change, forecast }: News): void {
  const channel = point.channel === null ? undefined : draft.channels[point.channel];
  const lifted = pointAlarm(draft, 'sensor-lifted', point.id);
  const stuck = pointAlarm(draft, 'stuck-reading', point.id);
  if (channel !== undefined) {
    const of = { point: point.id, instrument: channel.instrument, channel: channel.channel };
    const isLifted = change === 'sensor-lifted' && !wasSwitched(draft, SWITCHED_WITHIN_MS);
    if (isLifted && lifted?.active !== true) {
      raiseProbe(draft, { kind: 'sensor-lifted', ...of });
    }
    if (change === 'stuck' && stuck?.active !== true) {
      raiseProbe(draft, { kind: 'stuck-reading', ...of, value, unit: prediction.unit });
    }
  }
  if (change === 'heats-more' && lifted?.active === true) returnAlarm(draft, lifted);
  if (forecast !== null && stuck?.active === true) returnAlarm(draft, stuck);
}

function raiseProbe(draft: Draft, cause: ProbeCause): void {
  raiseAlarm(draft, {
    id: `${cause.kind}:${cause.point}`,
    cause,
    priority: 'medium',
    latched: false,
    suppressedBy: [],
  });
}
