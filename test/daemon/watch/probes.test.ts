import { describe, expect, it } from 'vitest';
import { pointStanding } from '../../../daemon/watch/standing.js';
import { poweredCabin, probe, reading } from './cabin.js';

describe('a probe that is moved', () => {
  it('leaves its point unmeasured and its old value behind', () => {
    const watched = poweredCabin().feed(probe(100, 'meter volts', 'lamps.volts'));
    expect(pointStanding(watched.state, 'logic.volts')).toEqual({
      id: 'logic.volts',
      measuredBy: null,
      value: null,
      mark: null,
      atMs: null,
      verdict: null,
      moving: null,
      stale: false,
    });
    expect(watched.verdicts('logic.volts')).toEqual(['inside', null]);
    watched.feed(reading(500, 'meter volts', 12));
    expect(pointStanding(watched.state, 'lamps.volts')).toMatchObject({
      value: 12,
      measuredBy: 'meter volts',
    });
  });

  it('doesn’t carry the noise of the old place along', () => {
    const watched = poweredCabin()
      .hold(500, 3000, 'meter volts', 5)
      .feed(probe(3100, 'meter volts', 'lamps.volts'));
    watched.feed(reading(3500, 'meter volts', 12));
    expect(watched.state.channels[0]?.meanStep).toBeNull();
  });

  it('put where it sits already changes nothing', () => {
    const watched = poweredCabin().feed(probe(100, 'meter volts', 'logic.volts'));
    expect(pointStanding(watched.state, 'logic.volts')?.value).toBe(5);
  });
});

describe('two channels on one point', () => {
  it('the newer one counts, and the older takes over when it leaves', () => {
    const watched = poweredCabin().feed(probe(100, 'board raw', 'logic.volts'));
    watched.feed(reading(200, 'board raw', 5.02), reading(300, 'meter volts', 9));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({
      value: 5.02,
      measuredBy: 'board raw',
    });
    watched.feed(probe(400, 'board raw', null), reading(500, 'meter volts', 5.01));
    expect(pointStanding(watched.state, 'logic.volts')).toMatchObject({
      value: 5.01,
      measuredBy: 'meter volts',
    });
  });

  it('an alarm lives on through the change', () => {
    const watched = poweredCabin().feed(
      reading(100, 'meter volts', 7),
      probe(200, 'board raw', 'logic.volts'),
    );
    watched.hold(500, 3500, 'board raw', 5);
    expect(watched.told('over-limit:logic.volts')).toEqual([
      [100, 'raised'],
      [3500, 'returned'],
    ]);
  });
});
