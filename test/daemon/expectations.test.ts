import { describe, expect, it } from 'vitest';
import type { BandAnswer, BandQuestion } from '../../daemon/expected-bands.js';
import { Expectations } from '../../daemon/expectations.js';
import type { PointPrediction } from '../../daemon/predict/prediction.js';
import type { ExpectEvent, WatchEvent } from '../../daemon/watch/events.js';
import type { LoadBands, WatchPlan } from '../../daemon/watch/plan.js';
import { watch, type WatchState } from '../../daemon/watch/watch.js';
import { PLAN, probe, reading, tick, Watched } from './watch/cabin.js';

const LOADS: LoadBands = {
  idle: { 'reservoir.volts': { low: 21, typical: 22, high: 23 } },
  typical: { 'reservoir.volts': { low: 17, typical: 20, high: 23 } },
  full: { 'reservoir.volts': { low: 15, typical: 16, high: 17 } },
};
const LOADED: LoadBands = {
  idle: {
    'transformer.amps': { low: 0.33, typical: 0.35, high: 0.37 },
    'reservoir.ripple': { low: 0.21, typical: 0.26, high: 0.32 },
  },
  typical: {
    'transformer.amps': { low: 1.03, typical: 1.1, high: 1.16 },
    'reservoir.ripple': { low: 0.72, typical: 0.9, high: 1.08 },
  },
  full: {
    'transformer.amps': { low: 1.37, typical: 1.45, high: 1.55 },
    'reservoir.ripple': { low: 0.97, typical: 1.2, high: 1.44 },
  },
};
const bandsOf = (low: number, high: number): BandAnswer['bands'] => ({
  'logic.case': { low, typical: (low + high) / 2, high },
});

interface Bench {
  readonly asked: BandQuestion[];
  readonly expected: ExpectEvent[];
  readonly state: () => WatchState;
  feed(...events: readonly WatchEvent[]): Bench;
  /** The oldest question that waits gets its answer. */
  answer(answer: BandAnswer | null): Bench;
}

/** A session without a clock, with bands that come when the test says so. */
function bench(plan: WatchPlan = { ...PLAN, loads: LOADS }): Bench {
  const waiting: ((answer: BandAnswer | null) => void)[] = [];
  const asked: BandQuestion[] = [];
  const expected: ExpectEvent[] = [];
  let { state } = new Watched(plan);
  const expectations = new Expectations(
    plan,
    {
      onHealth: () => undefined,
      ask(question, onAnswer) {
        asked.push(question);
        waiting.push(onAnswer);
      },
      stop: () => Promise.resolve(),
    },
    (event) => {
      const stamped = { ...event, atMs: state.nowMs };
      expected.push(stamped);
      step(stamped);
    },
  );
  function step(event: WatchEvent): void {
    const next = watch(state, event);
    state = next.state;
    expectations.onStep(event, state, next.effects);
  }
  const self: Bench = {
    asked,
    expected,
    state: () => state,
    feed(...events) {
      events.forEach(step);
      return self;
    },
    answer(answer) {
      waiting.shift()?.(answer);
      return self;
    },
  };
  return self.feed(
    probe(0, 'board raw', 'reservoir.volts'),
    probe(0, 'meter volts', 'logic.volts'),
    probe(0, 'probes t1', 'logic.case'),
  );
}

function stand(on: Bench, fromMs: number, where: string, value: number): Bench {
  for (let atMs = fromMs; atMs <= fromMs + 2000; atMs += 500)
    on.feed(reading(atMs, where, value), tick(atMs));
  return on;
}

describe('a load that a person names', () => {
  it('is answered with the bands of that load, once they are there', () => {
    const on = bench().feed({ kind: 'load', atMs: 100, load: 'full' }, tick(250));
    expect(on.asked).toEqual([{ load: 'full', measurements: [] }]);
    expect(on.expected).toEqual([]);
    on.answer({ load: 'full', bands: bandsOf(50, 80), measured: [] }).feed(tick(500));
    expect(on.expected).toMatchObject([
      { load: 'full', step: null, measured: [], bands: { 'logic.case': { high: 80 } } },
    ]);
    expect(on.state().load.state).toBe('full');
  });

  it('makes an answer for the load before it worthless', () => {
    const on = bench().feed(
      { kind: 'load', atMs: 100, load: 'full' },
      { kind: 'load', atMs: 200, load: 'idle' },
    );
    on.answer({ load: 'full', bands: bandsOf(50, 80), measured: [] }).feed(tick(250));
    expect(on.expected).toEqual([]);
    on.answer({ load: 'idle', bands: bandsOf(30, 40), measured: [] }).feed(tick(500));
    expect(on.expected.map(({ load }) => load)).toEqual(['idle']);
  });

  it('stays unanswered where its bands can’t be worked out, and the next one is not', () => {
    const on = bench().feed({ kind: 'load', atMs: 100, load: 'full' }).answer(null).feed(tick(250));
    expect(on.expected).toEqual([]);
    on.feed({ kind: 'load', atMs: 300, load: 'idle' });
    expect(on.asked.map(({ load }) => load)).toEqual(['full', 'idle']);
  });
});

it('a load that is recognised is answered, and what told it counts as measured under it', () => {
  const amps: PointPrediction = {
    ...PLAN.prediction.points['reservoir.volts']!,
    id: 'transformer.amps',
    unit: 'Arms',
    limits: [],
  };
  const points = { ...PLAN.prediction.points, 'transformer.amps': amps };
  const plan: WatchPlan = { ...PLAN, loads: LOADED, prediction: { ...PLAN.prediction, points } };
  const on = bench(plan).feed(
    probe(0, 'meter volts', 'reservoir.ripple'),
    probe(0, 'board raw', 'transformer.amps'),
  );
  const stands = (atMs: number): WatchEvent[] => [
    reading(atMs, 'board raw', 1.45, 'Arms'),
    reading(atMs, 'meter volts', 1.2, 'Vpp'),
    tick(atMs),
  ];
  for (let atMs = 0; atMs <= 2000; atMs += 500) on.feed(...stands(atMs));
  expect(on.asked).toEqual([{ load: 'full', measurements: [] }]);
  on.answer({ load: 'full', bands: LOADED.full, measured: [] }).feed(tick(2250), ...stands(2500));
  expect(on.asked.at(-1)).toMatchObject({
    load: 'full',
    measurements: [{ point: 'reservoir.ripple', value: 1.2 }],
  });
});

describe('what has settled', () => {
  it('is asked about with its uncertainty, and sharpens what stands', () => {
    const on = stand(bench(), 0, 'meter volts', 5);
    expect(on.asked).toMatchObject([{ load: 'typical', measurements: [{ point: 'logic.volts', value: 5 }] }]);
    // Half of 0.5 % of 5 V and 2 counts of 1 mV.
    expect(on.asked[0]?.measurements[0]?.standardUncertainty).toBeCloseTo(0.0135, 6);
    on.answer({ load: 'typical', bands: bandsOf(50, 60), measured: ['logic.volts'] }).feed(tick(2250));
    expect(on.expected).toMatchObject([{ measured: ['logic.volts'], bands: { 'logic.case': { low: 50 } } }]);
    on.feed(reading(2500, 'probes t1', 62.5, 'degC'));
    expect(on.state().points.find(({ id }) => id === 'logic.case')?.verdict).not.toBe('inside');
  });

  it('is not asked about when it lies outside: a faulty supply is no example of this design', () => {
    expect(stand(bench(), 0, 'meter volts', 5.3).asked).toEqual([]);
    expect(stand(bench(), 0, 'board raw', 0).asked).toEqual([]);
  });

  it('of a part that is still cold is not asked about', () => {
    const coldest = { ...PLAN.prediction.points['logic.case']!, coldest: 10 };
    const points = { ...PLAN.prediction.points, 'logic.case': coldest };
    const on = bench({ ...PLAN, prediction: { ...PLAN.prediction, points } });
    for (let atMs = 0; atMs <= 130_000; atMs += 500)
      on.feed(reading(atMs, 'probes t1', 22, 'degC'), tick(atMs));
    expect(on.state().points.find(({ id }) => id === 'logic.case')?.settling?.kind).toBe('standing');
    expect(on.asked).toEqual([]);
  });

  it('is told at most every two seconds, the newest', () => {
    const on = stand(stand(bench(), 0, 'meter volts', 5), 2500, 'board raw', 20);
    on.answer({ load: 'typical', bands: bandsOf(50, 60), measured: [] }).feed(tick(4750));
    on.answer({ load: 'typical', bands: bandsOf(51, 60), measured: [] }).feed(tick(6749));
    expect(on.expected).toHaveLength(1);
    on.feed(tick(6750));
    expect(on.expected.map(({ bands }) => bands['logic.case']?.low)).toEqual([50, 51]);
  });

  it('counts on when the probe goes on, and no longer under another load', () => {
    const on = stand(bench(), 0, 'meter volts', 5);
    on.answer(null).feed(probe(2600, 'meter volts', 'lamps.volts'));
    stand(on, 3000, 'meter volts', 12);
    expect(on.asked.at(-1)?.measurements.map(({ point }) => point)).toEqual(['logic.volts', 'lamps.volts']);
    on.answer(null).feed({ kind: 'load', atMs: 6000, load: 'full' });
    expect(on.asked.at(-1)).toEqual({ load: 'full', measurements: [] });
  });

  it('counts under a load that was named, once it has stood on under it', () => {
    const on = stand(bench(), 0, 'meter volts', 5)
      .answer(null)
      .feed({ kind: 'load', atMs: 2600, load: 'full' });
    on.answer(null);
    for (let atMs = 3000; atMs <= 12_500; atMs += 500) on.feed(reading(atMs, 'meter volts', 5), tick(atMs));
    expect(on.asked.at(-1)?.measurements).toEqual([]);
    on.feed(reading(12_600, 'meter volts', 5), tick(12_600));
    expect(on.asked.at(-1)).toMatchObject({ load: 'full', measurements: [{ point: 'logic.volts' }] });
  });
});

describe('a step of the power-up', () => {
  const step = (atMs: number, name: string | null): WatchEvent => ({
    kind: 'expect',
    atMs,
    load: 'idle',
    step: name,
    measured: [],
    bands: { 'logic.volts': { low: 4.9, typical: 5, high: 5.1 } },
  });

  it('has its own bands: nothing is said while they stand', () => {
    const on = stand(bench().feed(step(0, 'no-load')), 0, 'meter volts', 5);
    on.feed({ kind: 'load', atMs: 3000, load: 'full' }, tick(3250));
    expect(on.asked).toEqual([]);
    expect(on.expected).toEqual([]);
  });

  it('that is over leaves what has settled in it to sharpen on', () => {
    const on = stand(bench().feed(step(0, 'no-load')), 0, 'meter volts', 5).feed(
      step(2600, null),
      tick(2750),
    );
    expect(on.asked).toMatchObject([{ load: 'idle', measurements: [{ point: 'logic.volts' }] }]);
  });
});
