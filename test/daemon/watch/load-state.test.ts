import { describe, expect, it } from 'vitest';
import { loadBands } from '../../../daemon/predict/load-bands.js';
import { predict } from '../../../daemon/predict/predict.js';
import type { LoadState } from '../../../daemon/design/design.js';
import type { LoadRecognisedEffect } from '../../../daemon/watch/effects.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import type { LoadBands, WatchPlan } from '../../../daemon/watch/plan.js';
import { simulateSupply } from '../../../drivers/simulated/supply.js';
import { cabin } from '../design/signal-cabin.js';
import { PLAN, probe, reading, Watched } from './cabin.js';

const LOADS: LoadBands = {
  idle: {
    'reservoir.volts': { low: 20.5, typical: 21.5, high: 22.5 },
    'reservoir.ripple': { low: 0.2, typical: 0.25, high: 0.3 },
    'transformer.amps': { low: 0.3, typical: 0.35, high: 0.4 },
  },
  typical: {
    'reservoir.volts': { low: 19, typical: 20, high: 21 },
    'reservoir.ripple': { low: 0.8, typical: 1, high: 1.2 },
    'transformer.amps': { low: 1, typical: 1.1, high: 1.2 },
  },
  full: {
    'reservoir.volts': { low: 17.5, typical: 18.5, high: 19.5 },
    'reservoir.ripple': { low: 1.5, typical: 1.8, high: 2.1 },
    'transformer.amps': { low: 1.35, typical: 1.5, high: 1.65 },
  },
};

const load = (atMs: number, to: LoadState): WatchEvent => ({ kind: 'load', atMs, load: to });

const ALL: WatchPlan = {
  ...PLAN,
  loads: LOADS,
  channels: ['volts', 'ripple', 'amps'].map((channel) => ({ instrument: 'meter', channel, intervalMs: 500 })),
  prediction: {
    ...PLAN.prediction,
    points: {
      ...PLAN.prediction.points,
      'transformer.amps': {
        ...PLAN.prediction.points['reservoir.ripple']!,
        id: 'transformer.amps',
        unit: 'Arms',
      },
    },
  },
};

function watched(): Watched {
  return new Watched(ALL).feed(
    probe(0, 'meter volts', 'reservoir.volts'),
    probe(0, 'meter ripple', 'reservoir.ripple'),
    probe(0, 'meter amps', 'transformer.amps'),
  );
}

/** Three seconds of the same readings; one that is left out isn't measured. */
function stand(
  cabin: Watched,
  fromMs: number,
  { volts, ripple, amps }: { volts?: number; ripple?: number; amps?: number },
): Watched {
  for (let atMs = fromMs; atMs < fromMs + 3000; atMs += 500) {
    if (volts !== undefined) cabin.feed(reading(atMs, 'meter volts', volts));
    if (ripple !== undefined) cabin.feed(reading(atMs, 'meter ripple', ripple, 'Vpp'));
    if (amps !== undefined) cabin.feed(reading(atMs, 'meter amps', amps, 'Arms'));
  }
  return cabin;
}

function recognised(cabin: Watched): LoadRecognisedEffect[] {
  return cabin.effects.filter((effect) => effect.kind === 'load-recognised');
}

const FULL = { volts: 18.6, ripple: 1.75, amps: 1.5 };

describe('a load that is recognised', () => {
  it('is told once, with the points that say so', () => {
    const cabin = stand(stand(watched(), 0, FULL), 3000, FULL);
    expect(recognised(cabin)).toEqual([
      {
        kind: 'load-recognised',
        atMs: 1500,
        load: 'full',
        because: ['reservoir.volts', 'reservoir.ripple', 'transformer.amps'],
      },
    ]);
  });

  // A dried reservoir has more ripple at the same current, an open diode more of both (common practice).
  it.each([
    ['the ripple', { volts: 18.6, ripple: 1.75 }],
    ['the current', { volts: 18.6, amps: 1.5 }],
    ['neither', { volts: 18.6 }],
  ])('needs ripple and current at the same time, not %s alone', (_which, readings) => {
    expect(recognised(stand(watched(), 0, readings))).toEqual([]);
  });

  it('is the one in force where the readings fit that, none where they fit no state', () => {
    expect(recognised(stand(watched(), 0, { volts: 20, ripple: 1, amps: 1.1 }))).toEqual([]);
    // As with one diode open: the current of a full load, with the ripple of more than one.
    expect(recognised(stand(watched(), 0, { volts: 18.6, ripple: 2.9, amps: 1.5 }))).toEqual([]);
    expect(recognised(stand(watched(), 0, { volts: 0, ripple: 0, amps: 0 }))).toEqual([]);
  });

  it('is not told once a person has said so, and again when it goes back', () => {
    const cabin = stand(watched().feed(load(0, 'full')), 500, FULL);
    expect(recognised(cabin)).toEqual([]);
    stand(cabin, 4000, { volts: 20, ripple: 1, amps: 1.1 });
    expect(recognised(cabin).map(({ load: to }) => to)).toEqual(['typical']);
  });

  it('is nothing during a step of the power-up, which says itself what load it wants', () => {
    const cabin = watched().feed({
      kind: 'expect',
      atMs: 0,
      load: 'idle',
      step: 'no-load',
      measured: [],
      bands: {},
    });
    expect(recognised(stand(cabin, 0, FULL))).toEqual([]);
  });
});

describe('a load that was recognised', () => {
  const answered = (atMs: number, to: LoadState): WatchEvent => ({
    kind: 'expect',
    atMs,
    load: to,
    step: null,
    measured: [],
    bands: {},
  });
  const suspected = (atMs: number, fault: string, otherLoad: LoadState | null): WatchEvent => ({
    kind: 'suspects',
    atMs,
    from: ['lamps.volts', 'transformer.amps'],
    suspects: [
      {
        fault,
        about: 'lamps',
        title: fault,
        probability: 0.9,
        evidence: [],
        action: { switchOff: true, words: '' },
      },
    ],
    other: 0.01,
    next: null,
    odd: [],
    parameters: [],
    otherLoad: otherLoad === null ? null : { load: otherLoad, probability: 0.9 },
  });
  /** Full was recognised though typical is said to be on, and its bands stand. */
  const asFull = (): Watched => stand(watched(), 0, FULL).feed(answered(3000, 'full'));
  const loads = (cabin: Watched): LoadState[] => recognised(cabin).map(({ load: to }) => to);

  it('falls once all that was measured speaks for a fault under the load that was said, and stays so', () => {
    const cabin = asFull().feed(suspected(4000, 'overload', null), answered(4500, 'typical'));
    expect(recognised(cabin).at(-1)).toEqual({
      kind: 'load-recognised',
      atMs: 4000,
      load: 'typical',
      because: ['lamps.volts', 'transformer.amps'],
    });
    stand(cabin, 5000, { volts: 0, ripple: 0, amps: 0 });
    stand(cabin, 8000, FULL).feed(suspected(12_000, 'overload', null));
    expect(loads(cabin)).toEqual(['full', 'typical']);
  });

  it.each([
    ['a supply in order', suspected(4000, 'healthy', null)],
    ['a fault under the load that was recognised', suspected(4000, 'overload', 'full')],
  ])('stays where everything speaks for %s', (_what, event) => {
    expect(loads(asFull().feed(event))).toEqual(['full']);
  });

  it('stays where a person has said so since', () => {
    const cabin = asFull().feed(load(3500, 'full'), suspected(4000, 'overload', null));
    expect(loads(cabin)).toEqual(['full']);
  });

  it('may be recognised again once it fits better, or a person has named a load', () => {
    const again: WatchEvent[] = [suspected(5000, 'overload', 'full'), load(5000, 'typical')];
    for (const event of again) {
      const cabin = asFull().feed(suspected(4000, 'overload', null), answered(4500, 'typical'), event);
      stand(cabin, 6000, { volts: 0, ripple: 0, amps: 0 });
      expect(loads(stand(cabin, 9000, FULL))).toEqual(['full', 'typical', 'full']);
    }
  });
});

// The simulated bench integrates the circuit in time steps and shares no formula with the predictions.
describe('the load of simulated signal cabins (seeds 1 to 6)', () => {
  const design = cabin();
  const loads = loadBands(design, {});
  const states = ['idle', 'typical', 'full'] as const;
  const accuracy = { percent: 0.5, counts: 2, resolution: 0.001 };
  const channels = ['volts', 'ripple', 'amps'].map((channel) => ({
    instrument: 'meter',
    channel,
    intervalMs: 500,
    accuracy,
  }));
  const plans = states.map((said) => ({ prediction: predict(design, { load: said }), channels, loads }));

  it.each(states)('%s is found by its ripple and current, and never taken for another one', (real) => {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const supply = simulateSupply(design, { seed, load: real });
      supply.advanceTo(5000);
      for (const plan of plans) {
        const cabin = new Watched(plan).feed(
          probe(0, 'meter volts', 'reservoir.volts'),
          probe(0, 'meter ripple', 'reservoir.ripple'),
          probe(0, 'meter amps', 'transformer.amps'),
        );
        for (let atMs = 0; atMs < 3000; atMs += 500) {
          cabin.feed(
            reading(atMs, 'meter volts', supply.read('reservoir.volts')),
            reading(atMs, 'meter ripple', supply.read('reservoir.ripple'), 'Vpp'),
          );
        }
        expect(['', real], `seed ${seed}`).toContain(recognised(cabin).at(-1)?.load ?? '');
        for (let atMs = 3000; atMs < 6000; atMs += 500)
          cabin.feed(
            reading(atMs, 'meter ripple', supply.read('reservoir.ripple'), 'Vpp'),
            reading(atMs, 'meter amps', supply.read('transformer.amps'), 'Arms'),
          );
        const now = recognised(cabin).at(-1)?.load ?? plan.prediction.load;
        expect(now, `seed ${seed}, said ${plan.prediction.load}`).toBe(real);
      }
    }
  });

  // Half the pulses: as much current as the next load, and twice its ripple.
  it.each(states)('one diode open at %s load is taken for no other load', (real) => {
    for (const seed of [1, 2, 3, 4, 5, 6]) {
      const supply = simulateSupply(design, { seed, load: real, fault: 'diode-open' });
      supply.advanceTo(5000);
      const plan = plans[states.indexOf(real)]!;
      const cabin = new Watched(plan).feed(
        probe(0, 'meter volts', 'reservoir.volts'),
        probe(0, 'meter ripple', 'reservoir.ripple'),
        probe(0, 'meter amps', 'transformer.amps'),
      );
      for (let atMs = 0; atMs < 3000; atMs += 500) {
        cabin.feed(
          reading(atMs, 'meter volts', supply.read('reservoir.volts')),
          reading(atMs, 'meter ripple', supply.read('reservoir.ripple'), 'Vpp'),
          reading(atMs, 'meter amps', supply.read('transformer.amps'), 'Arms'),
        );
      }
      // The meter goes on to a rail: what it read of the ripple must not be forgotten.
      cabin.feed(probe(3000, 'meter ripple', 'lamps.ripple'));
      for (let atMs = 3000; atMs < 6000; atMs += 500)
        cabin.feed(reading(atMs, 'meter amps', supply.read('transformer.amps'), 'Arms'));
      expect(recognised(cabin), `seed ${seed}`).toEqual([]);
    }
  });
});

describe('what is outside for the load in force', () => {
  const AMPS = 'outside-prediction:transformer.amps';
  /** The rails draw as at full load from 3 s on; the ripple is read as given, and rises until it stands. */
  function drawing(ripple: (atMs: number) => number): Watched {
    const cabin = stand(watched(), 0, { volts: 20, ripple: 1, amps: 1.1 });
    for (let atMs = 3000; atMs <= 20_000; atMs += 500) {
      cabin.feed(
        reading(atMs, 'meter ripple', ripple(atMs), 'Vpp'),
        reading(atMs, 'meter amps', 1.5, 'Arms'),
      );
    }
    return cabin;
  }
  const risingUntil =
    (untilMs: number, then: number) =>
    (atMs: number): number =>
      atMs < untilMs ? atMs / 3000 : then;

  it('waits while it fits another one and the ripple has not stood still', () => {
    const cabin = drawing(risingUntil(8500, 1.8));
    const [found] = recognised(cabin);
    expect(found?.load).toBe('full');
    expect(cabin.told(AMPS).filter(([atMs]) => atMs <= found!.atMs)).toEqual([]);
  });

  it('is told as soon as the ripple speaks against that: an open diode has twice as much', () => {
    const cabin = drawing(risingUntil(8500, 3.6));
    expect(recognised(cabin)).toEqual([]);
    const [[atMs, change] = [0, '']] = cabin.told(AMPS);
    expect(change).toBe('raised');
    expect(atMs).toBeGreaterThan(8500);
    expect(atMs).toBeLessThan(14_000);
  });

  it('is told after ten seconds in any case', () => {
    const [[atMs, change] = [0, '']] = drawing(risingUntil(Infinity, 0)).told(AMPS);
    expect(change).toBe('raised');
    expect(atMs).toBeGreaterThan(13_000);
    expect(atMs).toBeLessThan(18_000);
  });

  it('is told as ever where it fits none', () => {
    const cabin = stand(watched(), 0, { volts: 20, ripple: 1, amps: 1.1 });
    for (let atMs = 3000; atMs <= 12_000; atMs += 500) {
      const ripple = risingUntil(Infinity, 0)(atMs);
      cabin.feed(reading(atMs, 'meter ripple', ripple, 'Vpp'), reading(atMs, 'meter amps', 2.4, 'Arms'));
    }
    const [[atMs] = [Infinity]] = cabin.told(AMPS);
    expect(atMs).toBeLessThan(9000);
  });
});
