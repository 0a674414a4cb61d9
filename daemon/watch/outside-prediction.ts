import type { AlarmFacts } from './alarm.js';
import { followRaise, followReturn, pointAlarm, wasToldTwice, worsenAlarm, type Raising } from './alarms.js';
import { isOutsideBand } from './compare.js';
import { readingsIn, readingsNeeded } from './delay.js';
import type { Draft } from './draft.js';
import { longer, type Delay, type Hold } from './hold.js';
import { mayBeAnotherLoad } from './load-state.js';
import { isTemperature, realStep, sampleDeadband, sampleIntervalMs, type Sample } from './sample.js';
import { staysCold } from './stays-cold.js';
import { supplyLooksOff } from './supply-off.js';
import { waitsForCause } from './waits-for-cause.js';

/** A supply's own rise after switching on: reservoirs charge in cycles, a filter in seconds (common practice). */
const RISE_MS = 3000;
/** A person names a load a few seconds before or after they switch it. */
const SWITCHES_WITHIN_MS = 10_000;
/** A probe that has just been put on takes on the part's temperature (common practice: some ten seconds a third). */
const TOUCHES_MS = 60_000;
/** Nothing is destroyed by it yet, so noise may be waited out for this long. */
const PATIENCE_MS = 30_000;
const LEAST_READINGS = 3;

/**
 * Follows the outside-prediction alarm of a point through one more number; returns its hold. Two things are
 * outside and need nobody (an alarm asks for a response): a part that is cooler than predicted while it warms up, and
 * too few volts, amps or watts in a supply that is switched off. Call it after the over-limit alarm of the same point was
 * followed, which explains it.
 * @param tells false while the readings tell nothing yet: then nothing is begun, and what has begun waits.
 */
export function followOutsidePrediction(draft: Draft, sample: Sample, tells: boolean): Hold | null {
  const alarm = pointAlarm(draft, 'outside-prediction', sample.point.id);
  if (!tells || isBeingSwitched(draft, sample)) return waiting(draft, sample, alarm);
  if (alarm?.active === true) return followActive(draft, sample, alarm);
  if (!isWrong(draft, sample, 0)) return null;
  const next = longer(sample.point.outside, draft.atMs);
  if (waitsForCause(draft, sample, next) || mayBeAnotherLoad(draft, sample, next)) return next;
  return followRaise(draft, sample.point.outside, onDelay(draft, sample), raisingOf(sample));
}

/** The load has just been named; a temperature follows in minutes. */
function isBeingSwitched({ load, atMs }: Draft, { prediction }: Sample): boolean {
  return load.sinceMs > 0 && atMs - load.sinceMs < SWITCHES_WITHIN_MS && !isTemperature(prediction.unit);
}

/** Nothing gets longer by such a reading; one that speaks against what was about to happen ends it. */
function waiting(draft: Draft, sample: Sample, alarm: AlarmFacts | undefined): Hold | null {
  const isActive = alarm?.active === true;
  return isWrong(draft, sample, 0) === isActive ? null : sample.point.outside;
}

function followActive(draft: Draft, sample: Sample, alarm: AlarmFacts): Hold | null {
  const { low, high } = sample.prediction;
  if (isWorse(draft, sample, alarm)) {
    worsenAlarm(draft, alarm, raisingOf(sample).cause, false);
    return null;
  }
  const isClear = !isWrong(draft, sample, Math.min(sampleDeadband(sample), (high - low) / 4));
  return followReturn(draft, sample.point.outside, isClear, alarm);
}

/** Longer the nearer to the edge and the noisier the channel. */
function onDelay(draft: Draft, sample: Sample): Delay {
  const { low, high, unit } = sample.prediction;
  if (isTemperature(unit) && sample.value < low) return { readings: LEAST_READINGS, ms: TOUCHES_MS };
  const beyond = Math.max(sample.value - high, low - sample.value);
  const noise = { ...sample, intervalMs: sampleIntervalMs(draft, sample) };
  const needed = readingsNeeded(beyond, noise, readingsIn(PATIENCE_MS, noise.intervalMs));
  return { readings: Math.max(LEAST_READINGS, needed), ms: RISE_MS };
}

/** Whether the value is out of the band, made narrower by `margin`, in a way that needs somebody. */
function isWrong(draft: Draft, sample: Sample, margin: number): boolean {
  const { low, high, unit } = sample.prediction;
  if (!isOutsideBand(sample.value, low, high, sample.guard - margin)) return false;
  if (isTemperature(unit) && sample.value < low + margin) return staysCold(draft, sample);
  return !supplyLooksOff(draft, sample, sample.point.outside);
}

function isWorse(draft: Draft, sample: Sample, alarm: AlarmFacts): boolean {
  const { cause, suppressedBy } = alarm;
  if (cause.kind !== 'outside-prediction' || suppressedBy.length > 0 || !isWrong(draft, sample, 0))
    return false;
  const isAbove = sample.value > cause.high;
  if (isAbove !== cause.value > cause.high) return true;
  const edge = isAbove ? cause.high : cause.low;
  const further = isAbove ? sample.value - cause.value : cause.value - sample.value;
  return further >= realStep(sample, cause.value, edge) && !wasToldTwice(draft, alarm.id);
}

function raisingOf(sample: Sample): Raising {
  const point = sample.point.id;
  const { unit, low, high } = sample.prediction;
  return {
    id: `outside-prediction:${point}`,
    cause: { kind: 'outside-prediction', point, value: sample.value, unit, low, high },
    priority: 'medium',
    latched: false,
    suppressedBy: [],
  };
}
