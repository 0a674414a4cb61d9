import type { Design, LoadState } from '../design/design.js';
import { isolate, listWords, MODULES, ONE_HAND } from './bench-words.js';
import type { Draft } from './first-steps.js';
import type { Outlet } from './outlets.js';
import type { Action } from './step.js';

const HOT = 'Heatsinks and resistors burn fingers: read the probe, never touch to feel.';

export function dummyStep(design: Design, outlets: readonly Outlet[]): Draft {
  const dummies = outlets.flatMap(({ name, dummy }) =>
    dummy === null ? [] : [`${dummy.ohms} ohm, ${dummy.ratedWatts} W or more on ${name}`],
  );
  return {
    id: 'dummy-load',
    kind: 'dummy-load',
    title: 'Dummy load',
    feeding: 'mains',
    load: 'full',
    gate: 'measured',
    fromDead: true,
    actions: [
      isolate(design),
      {
        words: `Put dummy loads on: ${listWords(dummies)}.`,
        caution: 'They get far too hot to touch: on a tile, clear of wires, before power and not under it.',
      },
      { words: 'Probes on rails, reservoir and cases, then switch on.', caution: ONE_HAND },
    ],
    notYet: [MODULES],
    checks: [],
    whenWrong: [
      'A rail sags: the input falls below its dropout, or the regulator limits. Compare the reservoir.',
      'Much ripple: an open diode, a dry reservoir, a poor ground at the reservoir.',
    ],
  };
}

export function soakStep(heated: readonly string[], measured: boolean): Draft {
  return {
    id: 'soak',
    kind: 'soak',
    title: 'Soak until nothing warms any more',
    feeding: 'mains',
    load: 'full',
    gate: 'soaked',
    fromDead: false,
    actions: [
      {
        words: measured
          ? 'Leave it on under the dummy loads until every temperature has settled. Stay with it.'
          : 'Leave it on under the dummy loads for half an hour at least. Stay with it.',
        caution: HOT,
      },
    ],
    notYet: [MODULES],
    checks:
      measured || heated.length === 0
        ? []
        : [
            {
              id: 'smell',
              ask: 'Half an hour on: does nothing smell, smoke, hiss or change colour?',
              caution: HOT,
              number: null,
              waiver: null,
              vital: false,
              reason: 'no probe of this bench reads a temperature; common practice',
              whenWrong: 'Switch off and let it cool before you look at heatsinks and dummy loads.',
            },
          ],
    whenWrong: [
      'A case too hot: heatsink missing, loose, too small; no grease; the lid in its way. Switch off first.',
      'A case too cold: the probe has come off, or its rail draws less than it should.',
    ],
  };
}

export function realStep(design: Design, { name }: Outlet, later: readonly Outlet[], load: LoadState): Draft {
  const damage = design.rails[name]?.damage;
  const survives = damage?.high === undefined ? '' : ` It survives ${damage.high} V.`;
  const connect: Action = {
    words: `Take the dummy load off ${name} and connect its module.${survives}`,
    caution: 'Check plus and minus once more: what is connected now can not be made in an evening.',
  };
  return {
    id: `real-load-${name}`,
    kind: 'real-load',
    title: `Real load on ${name}`,
    feeding: 'mains',
    load,
    gate: 'measured',
    fromDead: true,
    actions: [
      isolate(design),
      connect,
      { words: 'Hand on the switch, switch on, eyes on the rail.', caution: ONE_HAND },
    ],
    notYet: later.length === 0 ? [] : [`The module of ${listWords(later.map((outlet) => outlet.name))}`],
    checks: [],
    whenWrong: [
      `Switch off at once and take the module off ${name} before anything else.`,
      'The rail sags: the module draws more than the design says. Too high: its ground has come off.',
    ],
  };
}

export function lidStep(design: Design, load: LoadState): Draft {
  return {
    id: 'lid',
    kind: 'lid',
    title: 'Lid closed',
    feeding: 'mains',
    load,
    gate: 'soaked',
    fromDead: true,
    actions: [
      isolate(design),
      {
        words: 'Close the lid over the probes, switch on, wait until every temperature has settled again.',
        caution: 'Pinch no probe wire and no mains wire, and cover no vent.',
      },
    ],
    notYet: [],
    checks: [],
    whenWrong: ['Too hot: more or lower vents, hot parts at the top, a larger heatsink. Switch off first.'],
  };
}

export function signStep(): Draft {
  return {
    id: 'sign-off',
    kind: 'sign-off',
    title: 'Sign-off',
    feeding: 'mains',
    load: 'typical',
    gate: 'signed',
    fromDead: false,
    actions: [
      {
        words: 'Read through what was measured and overridden, then sign with your name.',
        caution: 'The record says what was measured. Whether it may be used, your local code decides.',
      },
    ],
    notYet: [],
    checks: [],
    whenWrong: [],
  };
}
