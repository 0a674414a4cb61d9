import { describe, expect, it } from 'vitest';
import { alarmState } from '../../../daemon/watch/alarm-state.js';
import { pointStanding } from '../../../daemon/watch/standing.js';
import type { ChannelPlan } from '../../../daemon/watch/plan.js';
import { beginWatch, watch } from '../../../daemon/watch/watch.js';
import {
  acknowledge,
  instrument,
  keepHeard,
  PLAN,
  poweredCabin,
  probe,
  reading,
  tick,
  Watched,
} from './cabin.js';

const STALE = 'stale:meter.volts';
const LOST = 'instrument-lost:meter';

describe('a channel that falls silent', () => {
  it('is stale after more than three intervals, by a tick', () => {
    const watched = keepHeard(poweredCabin(), 500, 1500, 'meter volts').feed(tick(1500));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({ stale: false, verdict: 'inside' });
    watched.feed(tick(1501));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({
      stale: true,
      verdict: null,
      value: 5,
    });
    expect(watched.told(STALE)).toEqual([[1501, 'raised']]);
    expect(watched.alarm(STALE)).toMatchObject({
      priority: 'medium',
      cause: { silentMs: 1501, point: 'logic.volts' },
    });
  });

  it('is stale without an alarm when a person types it: they type when they look', () => {
    const channels = PLAN.channels.map((one): ChannelPlan => ({ ...one, typed: true }));
    let state = beginWatch({ ...PLAN, channels });
    const alarms: string[] = [];
    for (const event of [
      instrument(0, 'meter', 'open'),
      probe(0, 'meter volts', 'logic.volts'),
      reading(1, 'meter volts', 5),
      tick(60_000),
    ]) {
      const next = watch(state, event);
      state = next.state;
      for (const effect of next.effects) if (effect.kind === 'alarm') alarms.push(effect.alarm.id);
    }
    expect(pointStanding(state, 'logic.volts')).toMatchObject({ stale: true, typed: true, value: 5 });
    expect(alarms.filter((id) => id.startsWith('stale:meter'))).toEqual([]);
  });

  it('is stale by the time of any event', () => {
    const watched = poweredCabin().feed(reading(1501, 'probes t1', 55, 'degC'));
    expect(watched.told(STALE)).toEqual([[1501, 'raised']]);
  });

  it('is low when no probe of it sits anywhere', () => {
    const watched = keepHeard(poweredCabin(), 500, 4000, 'probes t2');
    expect(watched.alarm('stale:probes.t2')?.priority).toBe('low');
  });

  it('is heard again with the next number, and the alarm waits for its person', () => {
    const watched = keepHeard(poweredCabin(), 500, 4000, 'meter volts').feed(reading(4100, 'meter volts', 5));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({ stale: false, verdict: 'inside' });
    expect(watched.told(STALE).at(-1)).toEqual([4100, 'returned']);
    expect(watched.alarm(STALE)?.acknowledged).toBe(false);
  });

  it('isn’t heard by readings that tell nothing', () => {
    const watched = poweredCabin();
    for (let atMs = 500; atMs <= 2000; atMs += 500) {
      watched.feed({
        kind: 'reading',
        atMs,
        instrument: 'meter',
        channel: 'volts',
        value: null,
        unit: 'V',
        mark: 'not-a-number',
      });
    }
    expect(watched.alarm(STALE)?.active).toBe(true);
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({ stale: true, mark: 'not-a-number' });
  });

  it('resolves nothing: its other alarms stay as they are', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', 7.6));
    for (let atMs = 1000; atMs < 600_000; atMs += 250) watched.feed(tick(atMs));
    expect(watched.told('over-limit:logic.volts')).toEqual([[500, 'raised']]);
    expect(watched.alarm('over-limit:logic.volts')?.active).toBe(true);
  });

  it('breaks a delay that was running', () => {
    const watched = poweredCabin().hold(500, 3000, 'meter volts', 5.3).feed(tick(6000));
    watched.hold(6500, 9000, 'meter volts', 5.3);
    expect(watched.told('outside-prediction:logic.volts')).toEqual([]);
  });
});

describe('an instrument that is lost', () => {
  it('is one alarm at once; its channels’ silence is explained by it', () => {
    const watched = keepHeard(
      poweredCabin().feed(instrument(200, 'meter', 'lost', 'unplugged')),
      500,
      3000,
      'meter volts',
    );
    expect(watched.told(LOST)).toEqual([[200, 'raised']]);
    expect(watched.alarm(LOST)?.cause).toMatchObject({ why: 'unplugged' });
    expect(watched.alarm(STALE)?.suppressedBy).toEqual([LOST]);
    expect(watched.state.alarms.filter((alarm) => alarmState(alarm) === 'unacknowledged')).toHaveLength(1);
  });

  it('leaves no value looking good from that moment on', () => {
    const watched = poweredCabin().feed(instrument(200, 'meter', 'lost', 'unplugged'));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({ stale: true, verdict: null });
    expect(watched.verdicts('logic.volts')).toEqual(['inside', null]);
  });

  it('is still lost while it is looked for', () => {
    const watched = poweredCabin().feed(
      instrument(200, 'meter', 'lost'),
      instrument(300, 'meter', 'waiting'),
      tick(400),
    );
    expect(watched.alarm(LOST)?.active).toBe(true);
  });

  it('takes the explained silence with it when it comes back reading', () => {
    const watched = keepHeard(
      poweredCabin().feed(instrument(200, 'meter', 'lost')),
      500,
      5000,
      'meter volts',
    );
    watched.feed(instrument(5100, 'meter', 'open'), tick(5200), reading(5300, 'meter volts', 5));
    expect(watched.alarm(LOST)).toMatchObject({ active: false, acknowledged: false });
    expect(watched.told(STALE).map(([, change]) => change)).toEqual(['raised', 'returned', 'removed']);
    watched.feed(acknowledge(5400, LOST));
    expect(watched.state.alarms).toEqual([]);
  });

  it('back but still silent after three intervals: then the silence speaks for itself', () => {
    const watched = keepHeard(
      poweredCabin().feed(instrument(200, 'meter', 'lost')),
      500,
      5000,
      'meter volts',
    );
    watched.feed(instrument(5000, 'meter', 'open'));
    keepHeard(watched, 5500, 6500, 'meter volts');
    expect(watched.alarm(STALE)?.suppressedBy).toEqual([LOST]);
    watched.feed(tick(6501));
    expect(watched.alarm(STALE)).toMatchObject({
      suppressedBy: [],
      acknowledged: false,
      cause: { silentMs: 6501 },
    });
  });

  it('explains a silence that was told before it', () => {
    const watched = keepHeard(poweredCabin(), 500, 3000, 'meter volts').feed(
      instrument(3100, 'meter', 'lost'),
      tick(3200),
    );
    expect(watched.told(STALE).at(-1)).toEqual([3200, 'suppressed']);
  });

  it('a reading without any word of it says that it is back', () => {
    const watched = poweredCabin().feed(instrument(200, 'meter', 'lost'), reading(900, 'meter volts', 5));
    expect(watched.told(LOST).at(-1)).toEqual([900, 'returned']);
    expect(watched.state.instruments.find(({ name }) => name === 'meter')?.state).toBe('reading');
  });

  it('closed by ourselves is no alarm, but its values aren’t good either', () => {
    const watched = keepHeard(
      poweredCabin().feed(instrument(200, 'meter', 'closed')),
      500,
      9000,
      'meter volts',
    );
    expect(watched.state.alarms).toEqual([]);
    expect(pointStanding(watched.state, 'logic.volts')?.stale).toBe(true);
  });
});

describe('an instrument that never came', () => {
  it('is an alarm after three of its intervals', () => {
    const watched = new Watched().feed(instrument(0, 'meter', 'waiting', 'no such port'), tick(1500));
    expect(watched.alarm(LOST)).toBeUndefined();
    watched.feed(tick(1501));
    expect(watched.alarm(LOST)).toMatchObject({ active: true, cause: { why: 'no such port' } });
    expect(watched.alarm(STALE)?.suppressedBy).toEqual([LOST]);
  });

  it('is one too when nothing at all was said about it', () => {
    const watched = new Watched().feed(tick(10_000));
    const standing = watched.state.alarms.filter((alarm) => alarmState(alarm) === 'unacknowledged');
    expect(standing.map(({ id }) => id)).toEqual([
      'instrument-lost:meter',
      'instrument-lost:probes',
      'instrument-lost:board',
    ]);
  });

  it('found just in time has its three intervals to read', () => {
    const watched = new Watched().feed(
      probe(0, 'meter volts', 'logic.volts'),
      instrument(1400, 'meter', 'open'),
    );
    watched.feed(tick(2900));
    expect(watched.alarm(STALE)).toBeUndefined();
    watched.feed(tick(2901));
    expect(watched.alarm(STALE)).toMatchObject({ active: true, suppressedBy: [] });
  });
});
