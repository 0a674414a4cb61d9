import type { AlarmFacts } from './alarm.js';
import {
  followRaise,
  followReturn,
  pointAlarm,
  suppressAlarm,
  unsuppressAlarm,
  worsenAlarm,
  type Raising,
} from './alarms.js';
import { isOutsideBand } from './compare.js';
import type { Draft } from './draft.js';
import type { Delay, Hold } from './hold.js';
import { isTemperature, realStep, sampleDeadband, type Sample } from './sample.js';
import { supplyLooksOff } from './supply-off.js';

const ON_DELAY: Delay = { readings: 3, ms: 3000 };

/**
 * Follows the outside-prediction alarm of a point through one more number; returns its hold. Two things are
 * outside and need nobody (an alarm asks for a response): a part that is cooler than predicted, as every part is
 * while it warms up, and too few volts, amps or watts in a supply that is switched off. An active over-limit alarm
 * of the same point explains this one. Call it after that one was followed.
 * @param tells false while the readings tell nothing yet: then nothing is begun, and what has begun waits.
 */
export function followOutsidePrediction(draft: Draft, sample: Sample, tells: boolean): Hold | null {
  const alarm = pointAlarm(draft, 'outside-prediction', sample.point.id);
  if (!tells) return waiting(draft, sample, alarm);
  if (alarm?.active === true) return followActive(draft, sample, alarm);
  if (!isWrong(draft, sample, 0)) return null;
  return followRaise(draft, sample.point.outside, ON_DELAY, raisingOf(draft, sample));
}

/** Nothing gets longer by such a reading; one that speaks against what was about to happen ends it. */
function waiting(draft: Draft, sample: Sample, alarm: AlarmFacts | undefined): Hold | null {
  const isActive = alarm?.active === true;
  if (isActive) explainByLimit(draft, sample, alarm);
  return isWrong(draft, sample, 0) === isActive ? null : sample.point.outside;
}

function followActive(draft: Draft, sample: Sample, before: AlarmFacts): Hold | null {
  const alarm = explainByLimit(draft, sample, before);
  const { low, high } = sample.prediction;
  if (isWorse(draft, sample, alarm)) {
    worsenAlarm(draft, alarm, raisingOf(draft, sample).cause, false);
    return null;
  }
  const isClear = !isWrong(draft, sample, Math.min(sampleDeadband(sample), (high - low) / 4));
  return followReturn(draft, sample.point.outside, isClear, alarm);
}

/** Whether the value is out of the band, made narrower by `margin`, in a way that needs somebody. */
function isWrong(draft: Draft, sample: Sample, margin: number): boolean {
  const { low, high, unit } = sample.prediction;
  if (!isOutsideBand(sample.value, low, high, sample.guard - margin)) return false;
  if (isTemperature(unit) && sample.value < low + margin) return false;
  return !supplyLooksOff(draft, sample);
}

function explainByLimit(draft: Draft, sample: Sample, alarm: AlarmFacts): AlarmFacts {
  const overLimit = pointAlarm(draft, 'over-limit', sample.point.id);
  const isExplained = overLimit?.active === true;
  if (isExplained && alarm.suppressedBy.length === 0) return suppressAlarm(draft, alarm, overLimit.id);
  if (isExplained || alarm.suppressedBy.length === 0) return alarm;
  // Whoever acknowledged the limit knows of this point: no second call for the same trouble getting better.
  return unsuppressAlarm(draft, alarm, alarm.acknowledged || (overLimit?.acknowledged ?? true));
}

function isWorse(draft: Draft, sample: Sample, { cause, suppressedBy }: AlarmFacts): boolean {
  if (cause.kind !== 'outside-prediction' || suppressedBy.length > 0 || !isWrong(draft, sample, 0))
    return false;
  const isAbove = sample.value > cause.high;
  if (isAbove !== cause.value > cause.high) return true;
  const edge = isAbove ? cause.high : cause.low;
  const further = isAbove ? sample.value - cause.value : cause.value - sample.value;
  return further >= realStep(sample, cause.value, edge);
}

function raisingOf(draft: Draft, sample: Sample): Raising {
  const point = sample.point.id;
  const { unit, low, high } = sample.prediction;
  const overLimit = pointAlarm(draft, 'over-limit', point);
  return {
    id: `outside-prediction:${point}`,
    cause: { kind: 'outside-prediction', point, value: sample.value, unit, low, high },
    priority: 'medium',
    latched: false,
    suppressedBy: overLimit?.active === true ? [overLimit.id] : [],
  };
}
