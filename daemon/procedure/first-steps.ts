import type { Design } from '../design/design.js';
import type { FilamentLamp } from '../predict/rectifier/lamp-limiter.js';
import { isolate, MODULES, ONE_HAND } from './bench-words.js';
import type { Check, Procedure, Step } from './step.js';

/** A step but for what its stage predicts. */
export type Draft = Omit<Step, 'bands' | 'points'>;

export function coldStep(checks: readonly Check[], design: Design): Draft {
  return {
    id: 'cold-checks',
    kind: 'cold-checks',
    title: 'Cold checks',
    feeding: 'unplugged',
    load: 'idle',
    gate: 'answered',
    fromDead: false,
    actions: [
      {
        words: 'Follow your local code. If you are not qualified for mains work, let someone who is do it.',
        caution: 'Mains kills. Nothing here says that the supply is safe.',
      },
      isolate(design),
    ],
    notYet: ['The mains', MODULES],
    checks,
    whenWrong: ['Mend what the check names and answer it again. Do not power the supply meanwhile.'],
  };
}

/** Shares of a lamp's watts that serve as well (common practice). */
const NEAR_LAMP = { low: 0.7, high: 1.4 };
const LAMP_WATTS = 'lamp-watts';

export function lampStep({ ratedWatts }: FilamentLamp, design: Design): Draft {
  return {
    id: 'lamp-limiter',
    kind: 'lamp-limiter',
    title: 'Put the lamp limiter in',
    feeding: 'unplugged',
    load: 'idle',
    gate: 'answered',
    fromDead: false,
    actions: [
      {
        words: `Put a filament lamp of ${ratedWatts} W in series with the live of the primary, in a closed holder.`,
        caution: 'The holder is at mains volts. Plug out while you wire it; only who may work on mains does.',
      },
      {
        words: 'Put the plug into a socket behind a residual-current device, with a switch within reach.',
        caution: 'Switch off at the socket first. The other hand stays away from everything earthed.',
      },
    ],
    notYet: ['The rectifier: leave the secondary open', MODULES],
    checks: [
      {
        id: LAMP_WATTS,
        ask: `How many watts does the lamp have? The next steps are predicted for ${ratedWatts} W`,
        caution: 'A filament or halogen lamp only: an LED lamp limits nothing.',
        number: { unit: 'W', low: NEAR_LAMP.low * ratedWatts, high: NEAR_LAMP.high * ratedWatts },
        waiver: null,
        vital: false,
        reason: `about the ${design.transformer.va === undefined ? "transformer's rating" : `transformer's ${design.transformer.va} VA`}; common practice`,
        whenWrong: 'Take a lamp near that, or begin again with --lamp and the watts that you have.',
      },
    ],
    whenWrong: ['A lamp far from that rating starves the supply, or lets a short burn something.'],
  };
}

/** The watts of the lamp that a walk was made for; null for a walk without one. */
export function lampWattsOf({ steps }: Pick<Procedure, 'steps'>): number | null {
  const check = steps.flatMap(({ checks }) => checks).find(({ id }) => id === LAMP_WATTS);
  // What a division leaves in the last digits would be read out to a person.
  return check?.number?.low == null ? null : Number((check.number.low / NEAR_LAMP.low).toPrecision(12));
}

/** What one lamp in series says at a glance (common practice). */
export function lampCheck(ask: string): Check {
  return {
    id: 'lamp',
    ask,
    caution: 'Look at the lamp, not at the circuit, while you switch on. Bright: switch off at once.',
    number: null,
    waiver: null,
    vital: true,
    reason: 'a lamp that stays bright carries what a short draws; common practice',
    whenWrong: 'Switch off, plug out. Look for a short behind what was connected last.',
  };
}

export interface SecondaryVolts {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

export function transformerStep(design: Design, volts: SecondaryVolts, behindLamp: boolean): Draft {
  const tapped = design.rectifier.kind === 'split-bridge' || design.rectifier.kind === 'centre-tap';
  const check = (id: string, ask: string, times: number): Check => ({
    id,
    ask,
    caution: ONE_HAND,
    number: { unit: 'Vrms', low: volts.low * times, high: volts.high * times },
    waiver: null,
    vital: false,
    reason: `rated volts x (1 + regulation) x mains / rated mains; IEC 60076-1${behindLamp ? ', less what the lamp takes' : ''}`,
    whenWrong: 'Check the taps of the primary, and for windings in series that they help each other.',
  });
  return {
    id: 'transformer',
    kind: 'transformer',
    title: 'Transformer alone',
    feeding: behindLamp ? 'behind-lamp' : 'mains',
    load: 'idle',
    gate: 'answered',
    fromDead: false,
    actions: [
      {
        words: 'Set the meter to AC volts and clip it to the open secondary. Then switch on.',
        caution: ONE_HAND,
      },
    ],
    notYet: ['The rectifier: leave the secondary open', MODULES],
    checks: [
      ...(behindLamp ? [lampCheck('Does the lamp stay dark, or glow a dull red at most?')] : []),
      ...(tapped
        ? [
            check('half-one', 'AC volts from the tap to one end?', 1),
            check('half-two', 'AC volts from the tap to the other end?', 1),
            check('both', 'AC volts from end to end?', 2),
          ]
        : [check('secondary', 'AC volts of the open secondary?', 1)]),
    ],
    whenWrong: [
      'A bright lamp: a shorted winding, or a primary tap for half the mains. Switch off at once.',
      'No volts: fuse, switch, an open winding.',
      ...(tapped ? ['End to end near 0 V: one half is the wrong way round.'] : []),
    ],
  };
}

export function cutOffStep(behindLamp: boolean): Draft {
  return {
    id: 'cut-off',
    kind: 'cut-off',
    title: 'Try the cut-off',
    feeding: behindLamp ? 'behind-lamp' : 'mains',
    load: 'idle',
    gate: 'answered',
    fromDead: false,
    actions: [
      {
        words: 'With the secondary still open, let the cut-off drop, and watch the AC volts go.',
        caution: 'The cut-off is no safety device: a contact can weld. Keep a switch within reach.',
      },
    ],
    notYet: ['The rectifier: leave the secondary open', MODULES],
    checks: [
      {
        id: 'cut-off',
        ask: 'Do the AC volts of the secondary fall to 0 when the cut-off drops?',
        caution: 'The primary stays live up to the contact. Plug out before a hand goes there.',
        number: null,
        waiver: null,
        vital: false,
        reason: 'what is to switch off in need is tried before it is needed; common practice',
        whenWrong:
          'Check its wiring and its output in the bench file; go on only with the switch in your hand.',
      },
    ],
    whenWrong: ['The contact does not open, or sits in the wrong wire: it must break the live.'],
  };
}
