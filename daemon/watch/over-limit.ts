import type { Limit } from '../predict/prediction.js';
import type { AlarmFacts } from './alarm.js';
import { followRaise, followReturn, pointAlarm, wasToldTwice, worsenAlarm, type Raising } from './alarms.js';
import { crossedLimit } from './compare.js';
import { readingsIn, readingsNeeded } from './delay.js';
import type { Draft } from './draft.js';
import type { Delay, Hold } from './hold.js';
import { priorityOfLimit } from './priority.js';
import { realStep, sampleDeadband, sampleIntervalMs, type Sample } from './sample.js';
import { supplyLooksOff } from './supply-off.js';

const AT_ONCE: Delay = { readings: 1, ms: 0 };
/** Long enough for a rail to come up, short against what heats. */
const BRIEFLY: Delay = { readings: 2, ms: 1000 };

/** Follows the over-limit alarm of a point through one more number; returns its hold. */
export function followOverLimit(draft: Draft, sample: Sample): Hold | null {
  const limit = crossedLimit(sample.value, sample.prediction.limits);
  const hold = sample.point.overLimit;
  const alarm = pointAlarm(draft, 'over-limit', sample.point.id);
  if (alarm?.active === true) return followActive(draft, sample, limit, alarm);
  if (limit === null || isOffBelow(draft, sample, limit)) return null;
  return followRaise(draft, hold, onDelay(draft, sample, limit), raisingOf(sample, limit));
}

function followActive(draft: Draft, sample: Sample, limit: Limit | null, alarm: AlarmFacts): Hold | null {
  if (limit === null) return followReturn(draft, sample.point.overLimit, isWellClear(sample), alarm);
  if (isOffBelow(draft, sample, limit)) return followReturn(draft, sample.point.overLimit, true, alarm);
  if (!isWorse(draft, sample, limit, alarm)) return null;
  const { cause, latched, priority } = raisingOf(sample, limit);
  worsenAlarm(draft, { ...alarm, priority }, cause, latched);
  return null;
}

/** A rail that is switched off is under its lowest volts and harms nothing. */
function isOffBelow(draft: Draft, sample: Sample, limit: Limit): boolean {
  return isTowardsZero(sample, limit) && supplyLooksOff(draft, sample, sample.point.overLimit);
}

function isTowardsZero(sample: Sample, limit: Limit): boolean {
  return Math.abs(sample.value) < Math.abs(limit.value);
}

/**
 * Damage by too much: one reading. Beyond a rating: as many as its noise asks for, as far as one can wait. Too little
 * (a rail that comes up passes through that): a second.
 */
function onDelay(draft: Draft, sample: Sample, limit: Limit): Delay {
  if (isTowardsZero(sample, limit)) return BRIEFLY;
  if (limit.kind === 'damage') return AT_ONCE;
  const noise = { ...sample, intervalMs: sampleIntervalMs(draft, sample) };
  const beyond = Math.abs(sample.value - limit.value);
  const readings = readingsNeeded(beyond, noise, readingsIn(BRIEFLY.ms, noise.intervalMs));
  return { readings, ms: (readings - 1) * noise.intervalMs };
}

/** Inside every limit by the deadband, or by half the way to what is predicted where the noise is larger. */
function isWellClear(sample: Sample): boolean {
  const { limits, typical } = sample.prediction;
  return limits.every((limit) => {
    const room = Math.max(0, distanceInside(typical, limit)) / 2;
    return distanceInside(sample.value, limit) >= Math.min(sampleDeadband(sample), room);
  });
}

function distanceInside(value: number, limit: Limit): number {
  return limit.side === 'high' ? limit.value - value : value - limit.value;
}

function isWorse(draft: Draft, sample: Sample, limit: Limit, alarm: AlarmFacts): boolean {
  const { cause } = alarm;
  if (cause.kind !== 'over-limit') return false;
  const further = distanceInside(cause.value, limit) - distanceInside(sample.value, limit);
  const isOtherLimit = limit.kind !== cause.limit.kind || limit.value !== cause.limit.value;
  const wasBeyond = distanceInside(cause.value, limit) <= 0;
  if (isOtherLimit && !wasBeyond) return limit.kind === 'damage' || cause.limit.kind === 'rating';
  return further >= realStep(sample, cause.value, limit.value) && !wasToldTwice(draft, alarm.id);
}

function raisingOf(sample: Sample, limit: Limit): Raising {
  const point = sample.point.id;
  const { unit } = sample.prediction;
  return {
    id: `over-limit:${point}`,
    cause: { kind: 'over-limit', point, value: sample.value, unit, limit },
    priority: priorityOfLimit(sample.value, unit, limit),
    latched: limit.kind === 'damage',
    suppressedBy: [],
  };
}
