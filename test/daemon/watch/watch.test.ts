import { describe, expect, it } from 'vitest';
import { pointStanding, pointStandings } from '../../../daemon/watch/standing.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import { instrument, PLAN, poweredCabin, probe, reading, tick, Watched } from './cabin.js';

describe('the start', () => {
  it('knows every predicted point and awaits every instrument', () => {
    const state = beginWatch(PLAN);
    expect(pointStandings(state).map(({ id, measuredBy, verdict }) => [id, measuredBy, verdict])).toEqual(
      Object.keys(PLAN.prediction.points).map((id) => [id, null, null]),
    );
    expect(state.instruments.map(({ name, state: is }) => [name, is])).toEqual([
      ['meter', 'waiting'],
      ['probes', 'waiting'],
      ['board', 'waiting'],
    ]);
  });
});

describe('verdicts', () => {
  it('are told when they change and only then', () => {
    const watched = poweredCabin();
    for (const [at, value] of [5, 5.09, 5.3, 5].entries()) {
      watched.hold(500 + at * 5000, 5000 + at * 5000, 'meter volts', value);
    }
    // The meter: ±(0.5 % + 2 counts) of 1 mV, so 5.09 V ± 0.027 V may lie on either side of 5.1 V.
    expect(watched.verdicts('logic.volts').filter((verdict) => verdict !== null)).toEqual([
      'inside',
      'doubtful',
      'outside',
      'inside',
    ]);
    // JCGM 106:2012: Phi(0.01 V / (0.02745 V / 2)) = Phi(0.7286) = 0.767 by the table of the normal distribution.
    const doubtful = watched.effects.find(
      (effect) => effect.kind === 'verdict' && effect.verdict === 'doubtful',
    );
    expect(doubtful).toMatchObject({ value: 5.09, leaning: 'inside' });
    expect((doubtful as { probability: number }).probability).toBeCloseTo(0.767, 3);
  });

  it('are not given for a reading in another unit than the point’s, which isn’t shown either', () => {
    const watched = poweredCabin().feed(probe(100, 'board raw', 'reservoir.ripple'));
    watched.feed(reading(500, 'board raw', 0.4, 'A'));
    expect(pointStanding(watched.state, 'reservoir.ripple')).toMatchObject({
      value: null,
      verdict: null,
      atMs: 500,
    });
  });

  it('are not given where nothing is predicted, but the value is shown', () => {
    const watched = poweredCabin().feed(probe(100, 'board raw', 'bell.volts'), reading(500, 'board raw', 8));
    expect(pointStanding(watched.state, 'bell.volts')).toMatchObject({
      value: 8,
      verdict: null,
      measuredBy: 'board raw',
    });
  });

  it('a number that is none is a reading without a number', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', NaN));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({
      value: null,
      mark: 'not-a-number',
      verdict: null,
    });
  });
});

describe('odd events', () => {
  it('a channel that the plan doesn’t name isn’t heard', () => {
    const watched = poweredCabin();
    const before = watched.state;
    watched.feed(
      reading(100, 'stranger volts', 5),
      reading(100, 'meter amps', 5),
      probe(100, 'meter amps', 'logic.volts'),
    );
    expect({ ...watched.state, nowMs: 0 }).toEqual({ ...before, nowMs: 0 });
  });

  it('names of every object’s own things are just names', () => {
    const watched = poweredCabin().feed(
      reading(100, 'constructor toString', 5),
      probe(100, 'meter volts', 'constructor'),
    );
    watched.feed(
      reading(200, 'meter volts', 5),
      probe(300, 'meter volts', '__proto__'),
      reading(400, 'meter volts', 5),
    );
    expect(pointStanding(watched.state, '__proto__')).toMatchObject({ value: 5, verdict: null });
    expect(pointStanding(watched.state, 'hasOwnProperty')).toBeUndefined();
  });

  it('time never goes back', () => {
    const watched = poweredCabin().feed(tick(1000), reading(400, 'meter volts', 5));
    expect(watched.state.nowMs).toBe(1000);
    expect(pointStanding(watched.state, 'logic.volts')?.atMs).toBe(1000);
    expect(watch(watched.state, tick(NaN)).state.nowMs).toBe(1000);
  });

  it('a note changes nothing but the time', () => {
    const watched = poweredCabin();
    const before = watched.state;
    watched.feed({ kind: 'note', atMs: 10, text: 'lamp limiter glows' });
    expect(watched.state).toEqual({ ...before, nowMs: 10 });
  });
});

describe('instruments', () => {
  it('keep what they said of themselves and count what was dropped', () => {
    const watched = new Watched().feed(
      {
        kind: 'instrument',
        atMs: 0,
        instrument: 'meter',
        state: 'open',
        why: '',
        path: '/dev/ttyUSB0',
        identity: 'bench meter',
      },
      { kind: 'fault', atMs: 1, instrument: 'meter', code: 'not-understood', count: 1, detail: 'got "##"' },
      { kind: 'fault', atMs: 2, instrument: 'meter', code: 'not-understood', count: 2, detail: 'got "?"' },
      instrument(3, 'meter', 'reading'),
    );
    expect(watched.state.instruments[0]).toMatchObject({
      state: 'reading',
      path: '/dev/ttyUSB0',
      identity: 'bench meter',
      faults: { 'not-understood': 2 },
      lastFault: 'got "?"',
      connectedAtMs: 0,
    });
  });

  it('without channels in the plan are known once they are heard of', () => {
    const watched = new Watched().feed(instrument(0, 'cut-off', 'lost', 'unplugged'));
    expect(watched.state.instruments.at(-1)).toMatchObject({ name: 'cut-off', state: 'lost' });
    expect(watched.alarm('instrument-lost:cut-off')?.active).toBe(true);
  });
});

it('what an event doesn’t change is shared with the state before', () => {
  const before = poweredCabin().state;
  const { state, effects } = watch(before, reading(100, 'meter volts', 5.01));
  expect(effects).toEqual([]);
  expect(state.instruments).toBe(before.instruments);
  expect(state.alarms).toBe(before.alarms);
  expect(state.points.filter((point, at) => point !== before.points[at])).toHaveLength(1);
  expect(state.channels.filter((channel, at) => channel !== before.channels[at])).toHaveLength(1);
});
