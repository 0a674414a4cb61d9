import type { Check, Procedure, Step } from '../../../../daemon/procedure/step.js';
import type { StepEffect } from '../../../../daemon/watch/effects.js';
import type { StepAction } from '../../../../daemon/watch/events.js';
import type { WatchPlan } from '../../../../daemon/watch/plan.js';
import { expectationOf } from '../../../../daemon/watch/procedure/expectation.js';
import type { StepState } from '../../../../daemon/watch/procedure/procedure-state.js';
import { whyNotStep, type StepRefusal } from '../../../../daemon/watch/procedure/refusal.js';
import { CHANNELS, instrument, PREDICTION, probe, reading, Watched } from '../cabin.js';

/** A power-up of the signal cabin, chosen for the tests: a check, a state without load, a soak, a module, a name. */

const check = (id: string, changes: Partial<Check> = {}): Check => ({
  id,
  ask: `${id}?`,
  caution: null,
  number: null,
  waiver: null,
  vital: false,
  reason: 'chosen for the test',
  whenWrong: `mend ${id}`,
  ...changes,
});

const step = (id: string, kind: Step['kind'], changes: Partial<Step>): Step => ({
  id,
  kind,
  title: id,
  feeding: 'mains',
  load: 'idle',
  gate: 'measured',
  fromDead: false,
  actions: [],
  notYet: [],
  checks: [],
  points: [],
  bands: {},
  whenWrong: [],
  ...changes,
});

const LOGIC = { point: 'logic.volts', label: 'logic rail', unit: 'V' } as const;
const RAW = { point: 'reservoir.volts', label: 'reservoir', unit: 'V' } as const;
const CASE = { point: 'logic.case', label: 'logic case', unit: 'degC' } as const;
const band = (low: number, high: number) => ({ low, typical: (low + high) / 2, high });

export const PROCEDURE: Procedure = {
  steps: [
    step('cold-checks', 'cold-checks', {
      gate: 'answered',
      feeding: 'unplugged',
      checks: [
        check('earth', { number: { unit: 'ohm', low: null, high: 0.3 }, waiver: 'class II', vital: true }),
        check('short', { number: { unit: 'ohm', low: 18, high: null } }),
        check('polarity'),
      ],
    }),
    step('rails', 'rails', {
      fromDead: true,
      points: [RAW, LOGIC],
      bands: { 'reservoir.volts': band(20, 25), 'logic.volts': band(4.8, 5.2) },
    }),
    step('soak', 'soak', {
      gate: 'soaked',
      load: 'full',
      points: [CASE, LOGIC],
      bands: {
        'reservoir.volts': band(17, 23),
        'logic.volts': band(4.8, 5.2),
        'logic.case': { ...band(45, 65), coldest: 15 },
      },
    }),
    step('real-load-logic', 'real-load', {
      fromDead: true,
      points: [LOGIC],
      bands: { 'reservoir.volts': band(17, 23), 'logic.volts': band(4.8, 5.2) },
    }),
    step('sign-off', 'sign-off', { gate: 'signed' }),
  ],
  afterAbort: ['Switch off.'],
};

export const WALK_PLAN: WatchPlan = { prediction: PREDICTION, channels: CHANNELS, procedure: PROCEDURE };

/** A power-up under test: what a session would feed, with the bands of each step. */
export class Walk extends Watched {
  constructor(plan: WatchPlan = WALK_PLAN) {
    super(plan);
    this.feed(
      probe(0, 'meter volts', 'logic.volts'),
      probe(0, 'probes t1', 'logic.case'),
      probe(0, 'board raw', 'reservoir.volts'),
      ...['meter', 'probes', 'board'].map((name) => instrument(0, name, 'reading')),
    );
  }

  act(step: string, action: StepAction): this {
    this.feed({ kind: 'step', atMs: this.state.nowMs, step, ...action });
    const expected = expectationOf(this.state);
    return expected === null ? this : this.feed(expected);
  }

  why(step: string, action: StepAction): StepRefusal | null {
    return whyNotStep({ kind: 'step', atMs: this.state.nowMs, step, ...action }, this.state);
  }

  /** Everything reads the same for so long, each half second. */
  stand(ms: number, { raw, logic, warm }: { raw: number; logic: number; warm: number }): this {
    const from = this.state.nowMs + 500;
    for (let atMs = from; atMs <= from + ms; atMs += 500) {
      this.feed(
        reading(atMs, 'board raw', raw),
        reading(atMs, 'meter volts', logic),
        reading(atMs, 'probes t1', warm, 'degC'),
        reading(atMs, 'probes t2', 22, 'degC'),
      );
    }
    return this;
  }

  off(ms = 2000): this {
    return this.stand(ms, { raw: 0, logic: 0, warm: 22 });
  }

  answerAll(): this {
    return this.act('cold-checks', { action: 'answer', check: 'earth', answer: 0.12 })
      .act('cold-checks', { action: 'answer', check: 'short', answer: 'open' })
      .act('cold-checks', { action: 'answer', check: 'polarity', answer: 'yes' });
  }

  step(id: string): StepState {
    const found = this.state.procedure?.steps.find((one) => one.id === id);
    if (found === undefined) throw new Error(`no step ${id}`);
    return found;
  }

  get current(): string {
    return PROCEDURE.steps[this.state.procedure?.at ?? -1]?.id ?? 'none';
  }

  /** What was told of the steps, `rails ready`, without what was kept meanwhile. */
  changes(): string[] {
    return this.effects.flatMap((effect) =>
      effect.kind === 'step' && !['captured', 'answered'].includes(effect.change)
        ? [`${effect.step} ${effect.change}`]
        : [],
    );
  }

  stepEffects(): StepEffect[] {
    return this.effects.filter((effect) => effect.kind === 'step');
  }
}

/** Volts as they should be, nothing warm yet. */
export const WELL = { raw: 22, logic: 5, warm: 24 };

/** As far as the rails without load, all well. */
export function upToRails(): Walk {
  return new Walk()
    .off()
    .act('cold-checks', { action: 'begin' })
    .answerAll()
    .act('rails', { action: 'begin' })
    .stand(5000, WELL);
}
