import type { Prediction } from '../predict/prediction.js';
import type { StallEvent } from './events.js';
import type { AlarmCause, AlarmKind } from './alarm.js';
import { pointLabel, spokenPoint, subject } from './point-words.js';
import { spokenValue, valueWords } from './value-words.js';
import type { AlarmWords } from './words.js';

type CauseOf<Kind extends AlarmKind> = Extract<AlarmCause, { kind: Kind }>;

const SWITCH_OFF =
  'Switch off and pull the plug. The reservoir stays charged: measure it before you touch anything.';

export function passingWords(cause: CauseOf<'passing-input'>, prediction: Prediction): AlarmWords {
  const { point, value, unit, expected, input, inputVolts, inputMeasured } = cause;
  const known = inputMeasured ? 'last measured there' : 'predicted there; nobody measures it';
  return {
    sentence: `${subject(prediction, point)}: ${valueWords(value, unit)} where at most ${valueWords(expected, unit)} is right. It follows its regulator's input (${pointLabel(prediction, input)}, ${valueWords(inputVolts, unit)} ${known}): the regulator passes its input through.`,
    spoken: `${spokenPoint(point)}, ${spokenValue(value, unit)}, the regulator passes its input: switch off`,
    cure: `${SWITCH_OFF} Take the load off this rail; the regulator has failed short, or its ground or adjust leg is open.`,
  };
}

export function headroomWords(cause: CauseOf<'no-headroom'>, prediction: Prediction): AlarmWords {
  const { point, input, inputVolts, setVolts, needsVolts } = cause;
  return {
    sentence: `${subject(prediction, point)}: its regulator is left with ${valueWords(inputVolts - setVolts, 'V')} at the lowest of each cycle (${pointLabel(prediction, input)} ${valueWords(inputVolts, 'V')}, output ${valueWords(setVolts, 'V')}) and needs ${valueWords(needsVolts, 'V')}. It hums or sags.`,
    spoken: `${spokenPoint(point)}, no headroom`,
    cure: 'Measure the mains and the load first. If both are right, the transformer gives too little or the reservoir is too small: compare them with the design, switched off and unplugged.',
  };
}

export function rateWords(cause: CauseOf<'ripple-frequency'>, prediction: Prediction): AlarmWords {
  const { point, mainsHertz, expected } = cause;
  const [once, twice] = [`${mainsHertz.toFixed(0)} Hz`, `${(2 * mainsHertz).toFixed(0)} Hz`];
  if (expected === 'mains') {
    return {
      sentence: `${subject(prediction, point)}: its ripple repeats at ${twice}, twice a mains cycle; a half-wave rectifier makes ${once}.`,
      spoken: `${spokenPoint(point)}, ripple at twice the frequency`,
      cure: 'The rectifier is another than the design says, and so is everything predicted from it. Switch off, pull the plug and correct the design or the wiring.',
    };
  }
  return {
    sentence: `${subject(prediction, point)}: its ripple repeats at ${once} instead of ${twice}: one half of the rectifier isn't conducting.`,
    spoken: `${spokenPoint(point)}, ripple at half the frequency: one half isn't conducting`,
    cure: `${SWITCH_OFF} Look for an open diode, a dry joint or a winding that isn't connected; the half that works carries it all.`,
  };
}

export function oscillatingWords(cause: CauseOf<'oscillating'>, prediction: Prediction): AlarmWords {
  const { point, hertz, peakToPeak, expected } = cause;
  const at = hertz === null ? '' : ` at ${valueWords(hertz, 'Hz')}`;
  const most = expected === null ? '' : `; ${valueWords(expected, 'Vpp')} of ripple is the most predicted`;
  return {
    sentence: `${subject(prediction, point)} oscillates: ${valueWords(peakToPeak, 'Vpp')}${at} that isn't locked to the mains${most}.`,
    spoken: `${spokenPoint(point)} oscillates`,
    cure: "Switch off. Put the regulator's capacitors within centimetres of its legs, with the values of its datasheet; an oscillating regulator runs hot. A long ground lead of the scope's probe shows the same.",
  };
}

export function clockJumpWords({ was, is, unwatchedMs }: CauseOf<'clock-jumped'>): AlarmWords {
  const isUnwatched = unwatchedMs >= 1000;
  const gap =
    unwatchedMs < 60_000 ? `${Math.round(unwatchedMs / 1000)} s` : `${Math.round(unwatchedMs / 60_000)} min`;
  return {
    sentence: isUnwatched
      ? `The computer slept or its clock was set forward: perhaps nothing was watched for ${gap} (clock ${was} to ${is}).`
      : `The computer's clock was set back (${was} to ${is}); times in this session go on.`,
    spoken: isUnwatched ? `the computer slept, nothing was watched` : `the computer's clock was set`,
    cure: isUnwatched
      ? 'Look at the supply before you trust anything. Keep the computer from sleeping while power is on.'
      : 'Nothing to do; times of day before and after do not join.',
  };
}

/** A stall, whether it is an alarm or not. */
export function stallWords({ stalledMs }: StallEvent): string {
  return `the program was held for ${(stalledMs / 1000).toFixed(1)} s; nothing was watched meanwhile`;
}

export function stalledWords({ stalledMs }: CauseOf<'stalled'>): AlarmWords {
  const span = `${(stalledMs / 1000).toFixed(1)} s`;
  return {
    sentence: `The program was held for ${span}: nothing was watched and no cut-off was kept alive meanwhile.`,
    spoken: 'the program was held, nothing was watched',
    cure: 'Look at the supply before you trust anything. Close what keeps the computer busy; a cut-off that has dropped is armed again with the supply in sight.',
  };
}

export function cutOffFailedWords({ output, why }: CauseOf<'cut-off-failed'>): AlarmWords {
  return {
    sentence: `The cut-off ${output} did not take power away: ${why}.`,
    spoken: `cut off ${spokenPoint(output)} failed: switch off at the mains`,
    cure: 'Switch off at the mains yourself, now. A contact can weld and a cable can fall out: a cut-off replaces no fuse, no lamp limiter and no person.',
  };
}
