import type { Design } from '../design/design.js';
import { isolate, listWords, MODULES, ONE_HAND } from './bench-words.js';
import { lampCheck, type Draft } from './first-steps.js';
import type { Outlet } from './outlets.js';

export function rawStep(design: Design, behindLamp: boolean): Draft {
  return {
    id: 'raw',
    kind: 'raw',
    title: 'Raw DC, regulators off',
    feeding: behindLamp ? 'behind-lamp' : 'mains',
    load: 'idle',
    gate: 'measured',
    fromDead: true,
    actions: [
      isolate(design),
      {
        words:
          'Join secondary, rectifier and reservoir; leave what follows off. Clip the meter on, switch on.',
        caution: `${ONE_HAND} Keep your face away: an electrolytic that is the wrong way round bursts.`,
      },
    ],
    notYet: ['The regulators', ...(design.filter === undefined ? [] : ['The filter']), MODULES],
    checks: behindLamp ? [lampCheck('Did the lamp flash and go dark again?')] : [],
    whenWrong: [
      'Too low, lamp bright: a shorted diode, a capacitor the wrong way round.',
      'Too low by a third, ripple high: an open diode, a dry reservoir.',
      'Too high: the wrong tap of the primary or the secondary.',
    ],
  };
}

export function railsStep(design: Design, outlets: readonly Outlet[], behindLamp: boolean): Draft {
  const minimum = outlets.flatMap(({ name, minimum: load }) =>
    load === null ? [] : [`${load.ohms} ohm, ${load.ratedWatts} W on ${name}`],
  );
  return {
    id: 'rails',
    kind: 'rails',
    title: 'Rails without load',
    feeding: behindLamp ? 'behind-lamp' : 'mains',
    load: 'idle',
    gate: 'measured',
    fromDead: true,
    actions: [
      isolate(design),
      {
        words: 'Join the regulators to the reservoir, with their heatsinks on.',
        caution: 'A regulator without its heatsink can fail short and pass its input.',
      },
      ...(minimum.length === 0
        ? []
        : [
            {
              words: `Put ${listWords(minimum)}: without, some samples do not hold their volts.`,
              caution: null,
            },
          ]),
      { words: 'Clip probes to the rails and the cases, then switch on.', caution: ONE_HAND },
    ],
    notYet: [MODULES],
    checks: behindLamp ? [lampCheck('Is the lamp dark?')] : [],
    whenWrong: [
      'A rail at its input: the regulator passes, its ground or adjust pin is open, or it is in the wrong way.',
      'A rail too low: R1 and R2, a short at its output, its input.',
      'A rail too high with nothing on it: less is drawn than its minimum load.',
    ],
  };
}
