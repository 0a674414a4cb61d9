import type { Limit, PointUnit, Prediction } from '../predict/prediction.js';
import type { AlarmCause } from './alarm.js';
import {
  clockJumpWords,
  cutOffFailedWords,
  headroomWords,
  oscillatingWords,
  passingWords,
  rateWords,
  stalledWords,
} from './fault-words.js';
import { spokenPoint, subject } from './point-words.js';
import { serviceWords } from './service-words.js';
import { spokenNumber } from './spoken-number.js';
import { rangeWords, spokenValue, valueWords } from './value-words.js';

/** What an alarm says to its person. */
export interface AlarmWords {
  /** What is wrong, with the numbers. */
  readonly sentence: string;
  /** The same, short enough to be spoken. */
  readonly spoken: string;
  /** What to do about it. */
  readonly cure: string;
}

type CauseOf<Kind extends AlarmCause['kind']> = Extract<AlarmCause, { kind: Kind }>;

/** The words of an alarm, made from its data here and nowhere else, so that page, report and voice agree. */
export function alarmWords(cause: AlarmCause, prediction: Prediction): AlarmWords {
  switch (cause.kind) {
    case 'over-limit':
      return overLimitWords(cause, prediction);
    case 'heading-over-limit':
      return headingWords(cause, prediction);
    case 'outside-prediction':
      return outsideWords(cause, prediction);
    case 'sensor-lifted':
      return liftedWords(cause, prediction);
    case 'stuck-reading':
      return stuckWords(cause, prediction);
    case 'stale':
      return staleWords(cause, prediction);
    case 'overload':
      return overloadWords(cause, prediction);
    case 'instrument-lost':
      return {
        sentence: `The instrument ${cause.instrument} is not there: ${cause.why}. Nothing that it measures is known now.`,
        spoken: `instrument ${cause.instrument} lost`,
        cure: 'Check its cable; it is looked for every second.',
      };
    case 'not-recording':
      return {
        sentence: `The recording is not being written: ${cause.why}. Watching goes on.`,
        spoken: 'not recording',
        cure: 'Make room on the disk or plug it back in; writing is tried again by itself.',
      };
    case 'passing-input':
      return passingWords(cause, prediction);
    case 'no-headroom':
      return headroomWords(cause, prediction);
    case 'ripple-frequency':
      return rateWords(cause, prediction);
    case 'oscillating':
      return oscillatingWords(cause, prediction);
    case 'clock-jumped':
      return clockJumpWords(cause);
    case 'stalled':
      return stalledWords(cause);
    case 'service-down':
      return serviceWords(cause);
    case 'cut-off-failed':
      return cutOffFailedWords(cause);
  }
}

function overLimitWords(cause: CauseOf<'over-limit'>, prediction: Prediction): AlarmWords {
  const { point, value, unit, limit } = cause;
  const reached = limitWords(value, unit, limit);
  return {
    sentence: `${subject(prediction, point)}: ${valueWords(value, unit)}, ${reached} (${limit.why}).`,
    spoken: `${spokenPoint(point)}, ${spokenValue(value, unit)}, ${limit.side === 'high' ? 'over' : 'under'} its limit: switch off`,
    cure: overLimitCure(point, unit, limit),
  };
}

/** A value that rounds to its limit is said to have reached it: "5.50 V, over 5.50 V" helps nobody. */
function limitWords(value: number, unit: PointUnit, limit: Limit): string {
  const written = valueWords(limit.value, unit);
  if (written === valueWords(value, unit)) return `at its limit of ${written}`;
  return `${limit.side === 'high' ? 'over' : 'under'} its limit of ${written}`;
}

function overLimitCure(point: string, unit: PointUnit, limit: Limit): string {
  switch (unit) {
    case 'degC':
      return temperatureCure(point, limit);
    case 'V':
      return limit.side === 'high'
        ? 'Switch off and pull the plug. The reservoir stays charged: measure it before you touch anything. Find out why the volts are too high before the load goes on again.'
        : 'Switch off and pull the plug. The reservoir stays charged: measure it before you touch anything. Look for a short, too much load, or too few volts before the regulator.';
    case 'Vrms':
    case 'Vpp':
      return 'Switch off and pull the plug. The reservoir stays charged: measure it before you touch anything. Look at the reservoir capacitor and every diode of the rectifier.';
    case 'A':
    case 'Arms':
      return 'Switch off. Look for a short or take some of the load off before trying again.';
    case 'W':
      return 'Switch off. Lower the load or the volts before this part: it turns too much into heat. It stays hot for minutes.';
    case 'ohm':
    case 'Hz':
      return 'Switch off and find the cause before trying again.';
  }
}

function temperatureCure(point: string, limit: Limit): string {
  if (limit.side === 'low') return 'Let it warm up before power goes on.';
  const isCooledPart = point.endsWith('.case') || point.endsWith('.junction') || point.endsWith('.heatsink');
  return isCooledPart
    ? 'Switch off. Fit the heatsink or a bigger one before trying again. Do not touch it: it stays hot for minutes.'
    : 'Switch off and let it cool. Give it more air before trying again.';
}

function headingWords(cause: CauseOf<'heading-over-limit'>, prediction: Prediction): AlarmWords {
  const { point, value, unit, limit, settled, inS } = cause;
  const when = inS === null ? '' : ` in ${spanWords(inS.typical)}`;
  const range = rangeWords(settled.low, settled.high, unit);
  return {
    sentence: `${subject(prediction, point)}: ${valueWords(value, unit)}, heading for ${valueWords(settled.typical, unit)} (${range}); it reaches its limit of ${valueWords(limit.value, unit)}${when} (${limit.why}).`,
    spoken: `${spokenPoint(point)} is heading over its limit${inS === null ? '' : `, ${spokenSpan(inS.typical)} left`}: switch off`,
    cure: temperatureCure(point, limit),
  };
}

/** `2 min 40 s`, in steps that suit its length. */
function spanWords(seconds: number): string {
  if (seconds < 60) return `${Math.max(5, Math.round(seconds / 5) * 5)} s`;
  const tens = Math.round(seconds / 10) * 10;
  if (seconds >= 600) return `${Math.round(seconds / 60)} min`;
  const rest = tens % 60;
  return `${Math.floor(tens / 60)} min${rest === 0 ? '' : ` ${rest} s`}`;
}

/** `forty seconds`, `three minutes`: a voice needs no more. */
function spokenSpan(seconds: number): string {
  const isShort = seconds < 90;
  const count = isShort ? Math.max(10, Math.round(seconds / 10) * 10) : Math.round(seconds / 60);
  return `${spokenNumber(String(count))} ${isShort ? 'seconds' : 'minutes'}`;
}

function liftedWords(cause: CauseOf<'sensor-lifted'>, prediction: Prediction): AlarmWords {
  return {
    sentence: `${subject(prediction, cause.point)} falls faster than the part can cool: the probe ${cause.instrument} ${cause.channel} has come off it.`,
    spoken: `${spokenPoint(cause.point)}, the probe has come off`,
    cure: 'The part may be far hotter than this shows. Switch off before you put the probe back: the part is hot and its tab may be live.',
  };
}

function stuckWords(cause: CauseOf<'stuck-reading'>, prediction: Prediction): AlarmWords {
  const { point, value, unit, instrument, channel } = cause;
  return {
    sentence: `${subject(prediction, point)} stands still at ${valueWords(value, unit)} though it should move: ${instrument} ${channel} is stuck.`,
    spoken: `${spokenPoint(point)}, the reading stands still`,
    cure: 'The part may be far hotter than this shows. Compare with another thermometer, or switch off. Before you touch the probe: the part stays hot and its tab may be live.',
  };
}

function outsideWords(cause: CauseOf<'outside-prediction'>, prediction: Prediction): AlarmWords {
  const { point, value, unit, low, high } = cause;
  const where = value > high ? 'above' : 'below';
  const band = rangeWords(low, high, unit);
  return {
    sentence: `${subject(prediction, point)}: ${valueWords(value, unit)}, ${where} the ${band} that the design predicts.`,
    spoken: `${spokenPoint(point)}, ${spokenValue(value, unit)}, ${where} what was predicted`,
    cure: outsideCure(unit, value > high),
  };
}

function outsideCure(unit: PointUnit, isAbove: boolean): string {
  if (unit === 'degC' && !isAbove) {
    return 'By now it should be warm. Check that the load is on and that the probe sits on the part: if it has come off, the part may be far hotter than this shows. Switch off before you touch it: it may be hot and its tab live.';
  }
  if (unit === 'degC') {
    return 'Watch where it goes and be ready to switch off. Compare the heatsink, the interface and the load with the design.';
  }
  if (unit === 'Vpp' && isAbove) {
    return 'More ripple: the reservoir holds less than it should, a diode is open, or more is drawn. Switch off, pull the plug and let the reservoir empty before you look.';
  }
  if (unit === 'Vpp') {
    return 'Less ripple than this load makes: check that the probe sits on this point and that the load is on.';
  }
  return 'Check that the probe sits on this point. If it does, switch off, pull the plug and compare the parts around it with the design.';
}

function staleWords(cause: CauseOf<'stale'>, prediction: Prediction): AlarmWords {
  const name = `${cause.instrument} ${cause.channel}`;
  const about = cause.point === null ? name : spokenPoint(cause.point);
  const lost = cause.point === null ? '' : ` ${subject(prediction, cause.point)} is not known now.`;
  return {
    sentence: `No good reading from ${name} for ${(cause.silentMs / 1000).toFixed(1)} s.${lost}`,
    spoken: `${about} has gone silent`,
    cure: 'Check that the instrument is on and set to this measurement, and that its probe is plugged in. Switch the supply off while you cannot see this value.',
  };
}

function overloadWords(cause: CauseOf<'overload'>, prediction: Prediction): AlarmWords {
  const name = `${cause.instrument} ${cause.channel}`;
  const about = cause.point === null ? name : spokenPoint(cause.point);
  const at = cause.point === null ? '' : ` at ${subject(prediction, cause.point)}`;
  return {
    sentence: `${name} shows overload${at}: the value is beyond its range, so it is not known.`,
    spoken: `${about}, meter overloaded`,
    cure: 'Choose a higher range. On a temperature channel, look for a broken or unplugged probe. Switch off if you do not know why.',
  };
}
