import { describe, expect, it } from 'vitest';
import { overload, poweredCabin, probe, reading } from './cabin.js';

describe('overload', () => {
  it('shows at once as a mark without a verdict', () => {
    const watched = poweredCabin().feed(overload(500, 'meter volts'));
    expect(watched.verdicts('logic.volts')).toEqual(['inside', null]);
    expect(watched.told('overload:logic.volts')).toEqual([]);
  });

  it('is an alarm when it lasts: one of them is a meter changing its range', () => {
    const watched = poweredCabin().feed(overload(500, 'meter volts'), overload(1000, 'meter volts'));
    watched.feed(overload(1500, 'meter volts'));
    expect(watched.told('overload:logic.volts')).toEqual([[1500, 'raised']]);
    expect(watched.alarm('overload:logic.volts')?.priority).toBe('medium');
  });

  it('is low where no limit is watched, and nothing on a probe that sits nowhere', () => {
    const watched = poweredCabin().feed(
      probe(100, 'board raw', 'lamps.volts'),
      probe(100, 'meter volts', null),
    );
    for (const atMs of [500, 1000, 1500])
      watched.feed(overload(atMs, 'board raw'), overload(atMs, 'meter volts'));
    expect(watched.state.alarms.map(({ id, priority }) => [id, priority])).toEqual([
      ['overload:lamps.volts', 'low'],
    ]);
  });

  it('returns with numbers, and is no silence', () => {
    const watched = poweredCabin();
    for (let atMs = 500; atMs <= 10_000; atMs += 500) watched.feed(overload(atMs, 'meter volts'));
    expect(watched.alarm('stale:meter.volts')).toBeUndefined();
    watched.hold(10_500, 13_500, 'meter volts', 5);
    expect(watched.alarm('overload:logic.volts')?.active).toBe(false);
  });

  it('clears no other alarm', () => {
    const watched = poweredCabin().feed(reading(500, 'meter volts', 7));
    for (let atMs = 1000; atMs <= 30_000; atMs += 500) watched.feed(overload(atMs, 'meter volts'));
    expect(watched.alarm('over-limit:logic.volts')?.active).toBe(true);
  });
});
