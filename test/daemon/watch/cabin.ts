import type { Limit, PointPrediction, PointUnit, Prediction } from '../../../daemon/predict/prediction.js';
import type { AlarmFacts } from '../../../daemon/watch/alarm.js';
import type { AlarmEffect, CutOffEffect, Effect } from '../../../daemon/watch/effects.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import type { ChannelPlan, WatchPlan } from '../../../daemon/watch/plan.js';
import { beginWatch, watch, type WatchState } from '../../../daemon/watch/watch.js';

/** The signal cabin's supply as the watch core sees it: bands and limits chosen for the tests, nothing computed. */

export const LOGIC_HIGH: Limit = {
  kind: 'damage',
  side: 'high',
  value: 5.5,
  why: 'what the logic load survives',
};
export const LOGIC_LOW: Limit = {
  kind: 'damage',
  side: 'low',
  value: 4.75,
  why: 'below this the logic load upsets',
};
export const CASE_RATING: Limit = { kind: 'rating', side: 'high', value: 97, why: 'junction at 125 °C' };

function point(
  id: string,
  label: string,
  unit: PointUnit,
  [low, typical, high]: readonly [number, number, number],
  limits: readonly Limit[],
): PointPrediction {
  const worst = { low, high };
  return {
    id,
    label,
    unit,
    nominal: typical,
    low,
    typical,
    high,
    worst,
    widthFrom: [],
    limits,
    formula: 'given',
  };
}

export const PREDICTION: Prediction = {
  points: Object.fromEntries(
    [
      point(
        'reservoir.volts',
        'reservoir',
        'V',
        [17, 20, 23],
        [{ kind: 'rating', side: 'high', value: 35, why: 'working volts of the reservoir capacitor' }],
      ),
      point('reservoir.ripple', 'reservoir ripple', 'Vpp', [0.8, 1.1, 1.4], []),
      point('lamps.volts', 'lamp rail', 'V', [11.6, 12, 12.4], []),
      point('logic.volts', 'logic rail', 'V', [4.9, 5, 5.1], [LOGIC_LOW, LOGIC_HIGH]),
      point('logic.case', 'logic regulator case', 'degC', [45, 55, 65], [CASE_RATING]),
    ].map((one) => [one.id, one]),
  ),
  parts: {},
  advice: [],
  assumed: [],
  load: 'typical',
  seed: 1,
};

export const CHANNELS: readonly ChannelPlan[] = [
  {
    instrument: 'meter',
    channel: 'volts',
    intervalMs: 500,
    accuracy: { percent: 0.5, counts: 2, resolution: 0.001 },
  },
  {
    instrument: 'probes',
    channel: 't1',
    intervalMs: 1000,
    accuracy: { percent: 0, counts: 10, resolution: 0.1 },
  },
  {
    instrument: 'probes',
    channel: 't2',
    intervalMs: 1000,
    accuracy: { percent: 0, counts: 10, resolution: 0.1 },
  },
  { instrument: 'board', channel: 'raw', intervalMs: 500 },
];

export const PLAN: WatchPlan = { prediction: PREDICTION, channels: CHANNELS };

/** The same with what feeds what, and a cut-off that the gravest kinds drop. */
export const SUPPLIED: WatchPlan = {
  ...PLAN,
  supply: {
    rippleRate: 'twice-mains',
    rails: [
      { name: 'lamps', from: 'reservoir', polarity: 'positive', dropoutVolts: 2, switches: false },
      { name: 'logic', from: 'reservoir', polarity: 'positive', dropoutVolts: 2, switches: false },
    ],
  },
  cutOffs: [{ output: 'mains-relay', on: ['passing-input', 'over-limit'], at: null }],
};

export const reading = (atMs: number, where: string, value: number, unit: PointUnit = 'V'): WatchEvent => {
  const [instrument = '', channel = ''] = where.split(' ');
  return { kind: 'reading', atMs, instrument, channel, value, unit };
};
export const overload = (atMs: number, where: string): WatchEvent => {
  const [instrument = '', channel = ''] = where.split(' ');
  return { kind: 'reading', atMs, instrument, channel, value: null, unit: 'V', mark: 'overload' };
};
export const probe = (atMs: number, where: string, to: string | null): WatchEvent => {
  const [instrument = '', channel = ''] = where.split(' ');
  return { kind: 'probe', atMs, instrument, channel, point: to };
};
export const instrument = (
  atMs: number,
  name: string,
  state: 'waiting' | 'open' | 'reading' | 'lost' | 'closed',
  why = '',
): WatchEvent => ({ kind: 'instrument', atMs, instrument: name, state, why });
export const tick = (atMs: number): WatchEvent => ({ kind: 'tick', atMs });
export const acknowledge = (atMs: number, alarm: string): WatchEvent => ({
  kind: 'acknowledge',
  atMs,
  alarm,
});

/** A watch under test: feeds events and keeps every effect. */
export class Watched {
  state: WatchState;
  readonly effects: Effect[] = [];

  constructor(plan: WatchPlan = PLAN) {
    this.state = beginWatch(plan);
  }

  feed(...events: readonly WatchEvent[]): this {
    for (const event of events) {
      const { state, effects } = watch(this.state, event);
      this.state = state;
      this.effects.push(...effects);
    }
    return this;
  }

  /** The same value again and again, every half second, both ends included. */
  hold(fromMs: number, toMs: number, where: string, value: number, unit: PointUnit = 'V'): this {
    for (let atMs = fromMs; atMs <= toMs; atMs += 500) this.feed(reading(atMs, where, value, unit));
    return this;
  }

  alarm(id: string): AlarmFacts | undefined {
    return this.state.alarms.find((alarm) => alarm.id === id);
  }

  /** `[atMs, change]` of everything that was told of an alarm. */
  told(id: string): [number, AlarmEffect['change']][] {
    return this.effects.flatMap((effect) =>
      effect.kind === 'alarm' && effect.alarm.id === id ? [[effect.atMs, effect.change]] : [],
    );
  }

  /** What was told of a cut-off. */
  cutOff(output: string): CutOffEffect['change'][] {
    return this.effects.flatMap((effect) =>
      effect.kind === 'cut-off' && effect.output === output ? [effect.change] : [],
    );
  }

  verdicts(point: string): (string | null)[] {
    return this.effects.flatMap((effect) =>
      effect.kind === 'verdict' && effect.point === point ? [effect.verdict] : [],
    );
  }
}

/** Every instrument there and reading, the meter on the logic rail, a probe on its regulator's case; all of it settled. */
export function poweredCabin(plan: WatchPlan = PLAN): Watched {
  const watched = new Watched(plan);
  watched.state = { ...watched.state, nowMs: -2000 };
  watched.feed(
    probe(-2000, 'meter volts', 'logic.volts'),
    probe(-2000, 'probes t1', 'logic.case'),
    probe(-2000, 'board raw', 'reservoir.volts'),
    ...['meter', 'probes', 'board'].map((name) => instrument(-2000, name, 'reading')),
  );
  for (let atMs = -2000; atMs < 0; atMs += 500) {
    watched.feed(reading(atMs, 'board raw', 20), reading(atMs, 'meter volts', 5));
  }
  return watched.feed(
    reading(0, 'board raw', 20),
    reading(0, 'meter volts', 5),
    reading(0, 'probes t1', 55, 'degC'),
    reading(0, 'probes t2', 22, 'degC'),
  );
}

/** Keeps every channel but those named heard, each half second, so that only what a test is about goes silent. */
export function keepHeard(
  watched: Watched,
  fromMs: number,
  toMs: number,
  ...but: readonly string[]
): Watched {
  const usual = [
    ['meter volts', 5, 'V'],
    ['probes t1', 55, 'degC'],
    ['probes t2', 22, 'degC'],
    ['board raw', 20, 'V'],
  ] as const;
  for (let atMs = fromMs; atMs <= toMs; atMs += 500) {
    for (const [where, value, unit] of usual) {
      if (!but.includes(where)) watched.feed(reading(atMs, where, value, unit));
    }
  }
  return watched;
}

/** Freezes a value with all that is in it. */
export function deepFreeze<T>(value: T): T {
  if (typeof value === 'object' && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    Object.values(value).forEach(deepFreeze);
  }
  return value;
}
