import { describe, expect, it } from 'vitest';
import { alarmState } from '../../../daemon/watch/alarm-state.js';
import { alarmList } from '../../../daemon/watch/standing.js';
import { acknowledge, keepHeard, poweredCabin, reading, tick } from './cabin.js';

const VOLTS = 'over-limit:logic.volts';
const LAMPS = 'outside-prediction:logic.case';
const MINUTE_MS = 60_000;

const shelve = (atMs: number, alarm: string, untilMs: number | null) =>
  ({ kind: 'shelve', atMs, alarm, untilMs }) as const;

/** An alarm that destroys, at 600 ms. */
const overVolts = () => poweredCabin().feed(reading(600, 'meter volts', 6));

describe('an alarm that is put aside (OPC 10000-9, 5.8.17)', () => {
  it('is shelved, stays in the list and goes on being followed', () => {
    const watched = overVolts().feed(shelve(700, VOLTS, 5 * MINUTE_MS));
    expect(watched.state.alarms.map(alarmState)).toEqual(['shelved']);
    expect(alarmList(watched.state).map(({ id }) => id)).toEqual([VOLTS]);
    watched.hold(1000, 5000, 'meter volts', 5);
    expect(watched.alarm(VOLTS)).toMatchObject({ active: false, shelvedUntilMs: 5 * MINUTE_MS });
  });

  it('comes back by time alone, and only then', () => {
    const watched = keepHeard(overVolts().feed(shelve(700, VOLTS, 2000)), 1000, 1500, 'meter volts');
    watched.feed(tick(1999));
    expect(watched.alarm(VOLTS)?.shelvedUntilMs).toBe(2000);
    watched.feed(tick(2000));
    expect(watched.told(VOLTS)).toEqual([
      [600, 'raised'],
      [700, 'shelved'],
      [2000, 'unshelved'],
    ]);
    expect(alarmState(watched.alarm(VOLTS)!)).toBe('unacknowledged');
  });

  it('what destroys is put aside for ten minutes at most, whatever was asked for', () => {
    const watched = overVolts().feed(shelve(1000, VOLTS, 60 * MINUTE_MS));
    expect(watched.alarm(VOLTS)?.shelvedUntilMs).toBe(1000 + 10 * MINUTE_MS);
  });

  it('what doesn’t, for a working day', () => {
    const watched = poweredCabin().hold(500, 60_000, 'probes t1', 80, 'degC');
    watched.feed(shelve(60_000, LAMPS, 24 * 60 * MINUTE_MS));
    expect(watched.alarm(LAMPS)?.shelvedUntilMs).toBe(60_000 + 8 * 60 * MINUTE_MS);
  });

  it('is taken up again by a person', () => {
    const watched = overVolts().feed(shelve(700, VOLTS, 5 * MINUTE_MS), shelve(900, VOLTS, null));
    expect(watched.alarm(VOLTS)?.shelvedUntilMs).toBeNull();
  });

  it('asks for its person again when it gets worse', () => {
    const watched = overVolts().feed(shelve(700, VOLTS, 5 * MINUTE_MS), reading(900, 'meter volts', 9));
    expect(watched.alarm(VOLTS)).toMatchObject({ shelvedUntilMs: null, acknowledged: false });
  });

  it('stays shelved when it comes and goes, and is gone with the shelving', () => {
    const watched = overVolts().feed(shelve(700, VOLTS, 5 * MINUTE_MS), acknowledge(800, VOLTS));
    watched.hold(1000, 5000, 'meter volts', 5).feed(acknowledge(5100, VOLTS));
    expect(watched.alarm(VOLTS)?.shelvedUntilMs).toBe(5 * MINUTE_MS);
    watched.feed(reading(5500, 'meter volts', 6));
    expect(alarmState(watched.alarm(VOLTS)!)).toBe('shelved');
  });

  it('one that isn’t there changes nothing', () => {
    const watched = poweredCabin();
    const before = watched.effects.length;
    watched.feed(shelve(700, 'over-limit:moon.volts', 5 * MINUTE_MS));
    expect(watched.effects.length).toBe(before);
  });
});
