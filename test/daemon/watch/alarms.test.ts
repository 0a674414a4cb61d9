import { describe, expect, it } from 'vitest';
import { alarmState } from '../../../daemon/watch/alarm-state.js';
import { acknowledge, instrument, poweredCabin, probe, reading, tick, type Watched } from './cabin.js';

const OVER = 'over-limit:logic.volts';
const CASE = 'over-limit:logic.case';

function stateOf(watched: Watched, id: string): string {
  const alarm = watched.alarm(id);
  return alarm === undefined ? 'normal' : alarmState(alarm);
}

/** One reading beyond the case's rating by far more than its noise. */
function hotCase(): Watched {
  return poweredCabin()
    .hold(500, 2500, 'probes t1', 90, 'degC')
    .feed(reading(3000, 'probes t1', 104, 'degC'));
}

// Every arrow of the ISA-18.2 state picture (states from memory; the rules named in each title from OPC 10000-9).
describe('the transitions of an alarm that doesn’t latch', () => {
  it('normal → unacknowledged → acknowledged → normal', () => {
    const watched = hotCase();
    expect(stateOf(watched, CASE)).toBe('unacknowledged');
    watched.feed(acknowledge(3100, CASE));
    expect(stateOf(watched, CASE)).toBe('acknowledged');
    watched.hold(3500, 7000, 'probes t1', 60, 'degC');
    expect(stateOf(watched, CASE)).toBe('normal');
    expect(watched.told(CASE)).toEqual([
      [3000, 'raised'],
      [3100, 'acknowledged'],
      [6500, 'returned'],
      [6500, 'removed'],
    ]);
  });

  it('unacknowledged → returned-unacknowledged → normal', () => {
    const watched = hotCase().hold(3500, 7000, 'probes t1', 60, 'degC');
    expect(stateOf(watched, CASE)).toBe('returned-unacknowledged');
    watched.feed(acknowledge(8000, CASE));
    expect(stateOf(watched, CASE)).toBe('normal');
    expect(watched.told(CASE).slice(-2)).toEqual([
      [8000, 'acknowledged'],
      [8000, 'removed'],
    ]);
  });

  it('returned-unacknowledged → unacknowledged when it comes again', () => {
    const watched = hotCase()
      .hold(3500, 7000, 'probes t1', 60, 'degC')
      .hold(7500, 9000, 'probes t1', 104, 'degC');
    expect(stateOf(watched, CASE)).toBe('unacknowledged');
    expect(watched.told(CASE).map(([, change]) => change)).toEqual(['raised', 'returned', 'raised']);
    expect(watched.alarm(CASE)).toMatchObject({ returnedAtMs: null, active: true });
  });
});

describe('a latched alarm: reset only after return and acknowledgement (OPC 10000-9, 5.8)', () => {
  const struck = (): Watched => poweredCabin().feed(reading(500, 'meter volts', 7.6));

  it('acknowledged first: stays when it returns, until a person resets it', () => {
    const watched = struck().feed(acknowledge(600, OVER));
    expect(stateOf(watched, OVER)).toBe('acknowledged');
    watched.feed(acknowledge(700, OVER));
    expect(stateOf(watched, OVER)).toBe('acknowledged');
    watched.hold(1000, 4500, 'meter volts', 5);
    expect(stateOf(watched, OVER)).toBe('latched-acknowledged');
    watched.hold(5000, 200_000, 'meter volts', 5);
    expect(stateOf(watched, OVER)).toBe('latched-acknowledged');
    watched.feed(acknowledge(200_001, OVER));
    expect(stateOf(watched, OVER)).toBe('normal');
  });

  it('returned first: the one press that follows does both', () => {
    const watched = struck().hold(1000, 4500, 'meter volts', 5);
    expect(stateOf(watched, OVER)).toBe('latched-unacknowledged');
    watched.feed(acknowledge(5000, OVER));
    expect(stateOf(watched, OVER)).toBe('normal');
  });

  it('latched-acknowledged → unacknowledged when it comes again', () => {
    const watched = struck().feed(acknowledge(600, OVER)).hold(1000, 4500, 'meter volts', 5);
    watched.feed(reading(5000, 'meter volts', 7.6));
    expect(stateOf(watched, OVER)).toBe('unacknowledged');
  });

  it('only damage latches: a rating doesn’t', () => {
    expect(struck().alarm(OVER)?.latched).toBe(true);
    expect(hotCase().alarm(CASE)?.latched).toBe(false);
  });
});

describe('an acknowledged alarm that gets worse', () => {
  it('asks again at each real step, 5 K for a temperature', () => {
    const watched = hotCase().feed(acknowledge(3100, CASE));
    watched.hold(3500, 5000, 'probes t1', 108, 'degC');
    expect(stateOf(watched, CASE)).toBe('acknowledged');
    for (let atMs = 5500; atMs < 60_000; atMs += 500) watched.feed(reading(atMs, 'probes t1', 112, 'degC'));
    expect(stateOf(watched, CASE)).toBe('unacknowledged');
    expect(watched.told(CASE).filter(([, change]) => change === 'worse')).toHaveLength(1);
    expect(watched.alarm(CASE)?.cause).toMatchObject({ value: 112 });
  });

  it('asks again when volts go a tenth further, not for less', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', 7.6), acknowledge(600, OVER));
    watched.feed(reading(1000, 'meter volts', 8));
    expect(stateOf(watched, OVER)).toBe('acknowledged');
    watched.feed(reading(1500, 'meter volts', 8.5));
    expect(stateOf(watched, OVER)).toBe('unacknowledged');
  });
});

it('what grows worse and worse is told at most twice a minute (three times would be chatter)', () => {
  const watched = poweredCabin();
  for (let step = 0; step < 120; step += 1)
    watched.feed(reading(500 + 500 * step, 'meter volts', 6 * 1.03 ** step));
  const times = watched.told(OVER).map(([atMs]) => atMs);
  expect(times.length).toBeGreaterThan(1);
  expect(times.every((atMs, k) => (times[k + 2] ?? Infinity) - atMs > 60_000)).toBe(true);
});

it('a temperature that drifts away asks a handful of times, not at every 5 K', () => {
  const watched = poweredCabin();
  for (let step = 0; step < 1200; step += 1)
    watched.feed(reading(1000 * step, 'probes t1', 60 + 100 * (1 - Math.exp(-step / 400)), 'degC'));
  expect(watched.told('outside-prediction:logic.case').length).toBeLessThanOrEqual(6);
  expect(watched.told(CASE).length).toBeLessThanOrEqual(6);
});

it('a step within the channel’s own noise is not worse', () => {
  const watched = poweredCabin();
  for (let atMs = 500; atMs < 60_000; atMs += 500) {
    watched.feed(reading(atMs, 'meter volts', atMs % 1000 === 0 ? 7 : 9));
  }
  watched.feed(acknowledge(60_000, OVER), reading(60_100, 'meter volts', 10.5));
  expect(stateOf(watched, OVER)).toBe('acknowledged');
});

describe('the moment of return', () => {
  it('the whole off-delay must be clear: one reading beyond begins it anew', () => {
    const watched = hotCase()
      .hold(3500, 6000, 'probes t1', 60, 'degC')
      .feed(reading(6400, 'probes t1', 104, 'degC'));
    watched.hold(6500, 9000, 'probes t1', 60, 'degC');
    expect(watched.alarm(CASE)?.active).toBe(true);
    watched.feed(reading(9500, 'probes t1', 60, 'degC'));
    expect(watched.alarm(CASE)?.active).toBe(false);
  });

  it('an alarm raised twice in a minute stays until the minute is over', () => {
    const watched = hotCase()
      .hold(3500, 7000, 'probes t1', 60, 'degC')
      .hold(7500, 9000, 'probes t1', 104, 'degC');
    watched.hold(9500, 63_000, 'probes t1', 60, 'degC');
    expect(watched.alarm(CASE)?.active).toBe(true);
    watched.feed(reading(63_500, 'probes t1', 60, 'degC'));
    expect(watched.alarm(CASE)?.active).toBe(false);
  });
});

describe('acknowledging', () => {
  it('an alarm that isn’t there does nothing', () => {
    const watched = poweredCabin();
    const before = watched.effects.length;
    watched.feed(acknowledge(500, 'over-limit:nowhere'));
    expect(watched.effects).toHaveLength(before);
  });

  it('is enough for good once the probe is off the point: nothing would tell of a return', () => {
    const watched = hotCase().feed(probe(3100, 'probes t1', null));
    expect(stateOf(watched, CASE)).toBe('unacknowledged');
    watched.feed(tick(3200), acknowledge(3300, CASE));
    expect(watched.alarm(CASE)).toBeUndefined();
    expect(watched.told(CASE).at(-1)).toEqual([3300, 'removed']);
  });

  it('before the probe comes off counts too', () => {
    const watched = hotCase().feed(acknowledge(3100, CASE), probe(3200, 'probes t1', null));
    expect(watched.told(CASE).at(-1)).toEqual([3200, 'removed']);
  });

  it('takes along what the alarm explains on that point', () => {
    const watched = hotCase().hold(3500, 7000, 'probes t1', 104, 'degC');
    expect(stateOf(watched, 'outside-prediction:logic.case')).toBe('suppressed');
    watched.feed(probe(7100, 'probes t1', null), acknowledge(7200, CASE));
    expect(
      watched.state.alarms.filter(({ cause }) => 'point' in cause && cause.point === 'logic.case'),
    ).toEqual([]);
  });

  it('the facts of a removed alarm derive to normal', () => {
    const watched = hotCase().feed(probe(3100, 'probes t1', null), acknowledge(3300, CASE));
    const removed = watched.effects.at(-1);
    expect(removed?.kind === 'alarm' && alarmState(removed.alarm)).toBe('normal');
  });
});

it('a shelved alarm goes on being evaluated (OPC 10000-9, 5.8.17)', () => {
  const watched = hotCase();
  const alarms = watched.state.alarms.map((alarm) => ({ ...alarm, shelvedUntilMs: 1e6 }));
  watched.state = { ...watched.state, alarms };
  watched.hold(3500, 7000, 'probes t1', 60, 'degC');
  expect(watched.alarm(CASE)).toMatchObject({ active: false, shelvedUntilMs: 1e6 });
  expect(stateOf(watched, CASE)).toBe('shelved');
});

it('a flapping instrument is one alarm, not one for every loss', () => {
  const watched = poweredCabin();
  for (let atMs = 1000; atMs < 61_000; atMs += 2000) {
    watched.feed(instrument(atMs, 'meter', 'lost', 'unplugged'), instrument(atMs + 1000, 'meter', 'reading'));
  }
  expect(watched.told('instrument-lost:meter').filter(([, change]) => change === 'raised')).toHaveLength(2);
});
