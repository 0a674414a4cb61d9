import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PointUnit } from '../../../daemon/predict/prediction.js';
import type { Effect } from '../../../daemon/watch/effects.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { beginWatch, watch, type WatchState } from '../../../daemon/watch/watch.js';
import {
  CHANNELS,
  deepFreeze,
  LOGIC_HIGH,
  PLAN,
  PREDICTION,
  probe,
  reading,
  tick,
  Watched,
} from './cabin.js';
import { normalNoise } from './random.js';

const SEED = 20_251_125;
const CHATTER_MS = 60_000;

const channels = fc.constantFrom(...CHANNELS);
const points = fc.constantFrom(...Object.keys(PREDICTION.points), 'bell.volts', null);
const values = fc.oneof(fc.double({ min: -5, max: 160, noNaN: true }), fc.constantFrom(4.75, 5, 5.5, 55, 97));
const alarms = fc.constantFrom(
  ...['over-limit', 'outside-prediction', 'overload'].flatMap((kind) => [
    `${kind}:logic.volts`,
    `${kind}:logic.case`,
  ]),
  'stale:meter.volts',
  'instrument-lost:meter',
  'not-recording',
);
const readings = fc.record({
  kind: fc.constant('reading' as const),
  on: channels,
  value: values,
  unit: fc.constantFrom<PointUnit>('V', 'degC', 'Vrms'),
  mark: fc.option(fc.constantFrom('overload' as const, 'not-a-number' as const), { freq: 8 }),
});
const others = fc.oneof(
  fc.record({ kind: fc.constant('tick' as const) }),
  fc.record({ kind: fc.constant('probe' as const), on: channels, point: points }),
  fc.record({
    kind: fc.constant('instrument' as const),
    instrument: fc.constantFrom('meter', 'probes', 'board'),
    state: fc.constantFrom(
      'waiting' as const,
      'open' as const,
      'reading' as const,
      'lost' as const,
      'closed' as const,
    ),
  }),
  fc.record({ kind: fc.constant('acknowledge' as const), alarm: alarms }),
  fc.record({ kind: fc.constant('recorder' as const), writing: fc.boolean() }),
);
type Drawn =
  | (typeof readings extends fc.Arbitrary<infer R> ? R : never)
  | (typeof others extends fc.Arbitrary<infer O> ? O : never);

/** Any session: events in order of time, mostly readings, with gaps long enough for silence. */
const sessions = fc
  .array(
    fc.tuple(fc.oneof({ weight: 3, arbitrary: readings }, { weight: 1, arbitrary: others }), fc.nat(1200)),
    {
      maxLength: 120,
    },
  )
  .map((drawn) => {
    let atMs = 0;
    return drawn.map(([event, gapMs]) => eventOf(event, (atMs += gapMs)));
  });

function eventOf(drawn: Drawn, atMs: number): WatchEvent {
  switch (drawn.kind) {
    case 'reading': {
      const { kind, on, value, unit, mark } = drawn;
      const base = { kind, atMs, instrument: on.instrument, channel: on.channel, unit };
      return mark === null ? { ...base, value } : { ...base, value: null, mark };
    }
    case 'probe':
      return {
        kind: 'probe',
        atMs,
        instrument: drawn.on.instrument,
        channel: drawn.on.channel,
        point: drawn.point,
      };
    case 'instrument':
      return { ...drawn, atMs, why: 'drawn' };
    case 'recorder':
      return { ...drawn, atMs, why: 'drawn' };
    case 'tick':
    case 'acknowledge':
      return { ...drawn, atMs };
  }
}

function run(from: WatchState, events: readonly WatchEvent[], each = (state: WatchState) => state) {
  const effects: Effect[] = [];
  let state = from;
  for (const event of events) {
    const next = watch(each(state), event);
    state = next.state;
    effects.push(...next.effects);
  }
  return { state, effects };
}

describe(`any session (seed ${SEED})`, () => {
  const settings = { seed: SEED, numRuns: 150 };

  it('leaves the incoming state and event as they were', () => {
    fc.assert(
      fc.property(sessions, (events) => {
        run(beginWatch(deepFreeze(structuredClone(PLAN))), deepFreeze(events), deepFreeze);
      }),
      settings,
    );
  });

  it('gives the same effects and the same state every time', () => {
    fc.assert(
      fc.property(sessions, (events) => {
        const once = run(beginWatch(PLAN), events);
        expect(JSON.stringify(run(beginWatch(PLAN), events))).toBe(JSON.stringify(once));
      }),
      settings,
    );
  });

  it('goes on the same from a state that was written down and read back', () => {
    fc.assert(
      fc.property(sessions, fc.nat(120), (events, cut) => {
        const middle = run(beginWatch(PLAN), events.slice(0, cut)).state;
        const readBack = JSON.parse(JSON.stringify(middle)) as WatchState;
        expect(readBack).toEqual(middle);
        expect(JSON.stringify(run(readBack, events.slice(cut)))).toBe(
          JSON.stringify(run(middle, events.slice(cut))),
        );
      }),
      settings,
    );
  });

  it('never makes an alarm chatter: three raises lie more than a minute apart', () => {
    fc.assert(
      fc.property(sessions, (events) => {
        const raised = new Map<string, number[]>();
        for (const effect of run(beginWatch(PLAN), events).effects) {
          if (effect.kind !== 'alarm' || effect.change !== 'raised') continue;
          raised.set(effect.alarm.id, [...(raised.get(effect.alarm.id) ?? []), effect.atMs]);
        }
        for (const times of raised.values()) expect(shortestOfThree(times)).toBeGreaterThan(CHATTER_MS);
      }),
      settings,
    );
  });

  it('silence after it returns no alarm, and shows no value as good', () => {
    fc.assert(
      fc.property(sessions, (events) => {
        const before = run(beginWatch(PLAN), events).state;
        const ticks = Array.from({ length: 60 }, (_, at) => tick(before.nowMs + 4000 + at * 5000));
        const { state, effects } = run(before, ticks);
        expect(
          effects.filter((effect) => effect.kind === 'alarm' && isAboutPoint(effect) && isGone(effect)),
        ).toEqual([]);
        expect(state.points.filter(({ verdict }) => verdict !== null)).toEqual([]);
      }),
      settings,
    );
  });

  it('every alarm that is kept needs somebody: active, unacknowledged, or latched', () => {
    fc.assert(
      fc.property(sessions, (events) => {
        for (const alarm of run(beginWatch(PLAN), events).state.alarms) {
          expect(alarm.active || !alarm.acknowledged || alarm.latched).toBe(true);
        }
      }),
      settings,
    );
  });
});

type AlarmTold = Extract<Effect, { kind: 'alarm' }>;
const isAboutPoint = ({ alarm }: AlarmTold): boolean =>
  ['over-limit', 'outside-prediction', 'overload', 'stale'].includes(alarm.cause.kind);
const isGone = ({ change }: AlarmTold): boolean => change === 'returned' || change === 'removed';

function shortestOfThree(times: readonly number[]): number {
  return Math.min(Infinity, ...times.slice(2).map((atMs, at) => atMs - (times[at] ?? 0)));
}

describe(`noise around a limit for ten minutes (seed ${SEED})`, () => {
  it('raises once or twice, wherever the middle lies and however large the noise', () => {
    const middles = fc.double({ min: -3, max: 3, noNaN: true });
    const deviations = fc.double({ min: 0.0005, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(middles, deviations, fc.nat(), (middle, deviation, seed) => {
        const noise = normalNoise(seed);
        const watched = new Watched().feed(probe(0, 'meter volts', 'logic.volts'));
        for (let atMs = 0; atMs < 600_000; atMs += 500) {
          const value = LOGIC_HIGH.value + deviation * (middle + noise());
          watched.feed(reading(atMs, 'meter volts', value));
        }
        const raised = watched.told('over-limit:logic.volts').filter(([, change]) => change === 'raised');
        expect(raised.length).toBeLessThanOrEqual(2);
      }),
      { seed: SEED, numRuns: 40 },
    );
  });
});
