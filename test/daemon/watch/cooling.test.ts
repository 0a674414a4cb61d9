import { describe, expect, it } from 'vitest';
import type { ExpectEvent } from '../../../daemon/watch/events.js';
import { poweredCabin, reading, type Watched } from './cabin.js';

const ALARM = 'outside-prediction:logic.case';

const expected = (atMs: number, load: ExpectEvent['load'], high: number): ExpectEvent => ({
  kind: 'expect',
  atMs,
  load,
  step: null,
  measured: [],
  bands: { 'logic.case': { low: 20, typical: (20 + high) / 2, high } },
});

/** The case reads so much from here on, once a second. */
function reads(watched: Watched, fromMs: number, toMs: number, celsius: (atMs: number) => number): Watched {
  for (let atMs = fromMs; atMs <= toMs; atMs += 1000)
    watched.feed(reading(atMs, 'probes t1', celsius(atMs), 'degC'));
  return watched;
}

describe('a part after a lighter load was named', () => {
  it('may be as hot as before and cool down as such parts do (Newton’s law of cooling, a quarter of an hour)', () => {
    const watched = reads(poweredCabin(), 1000, 60_000, () => 62).feed(expected(60_000, 'idle', 40));
    reads(watched, 61_000, 3_600_000, (atMs) => 30 + 32 * Math.exp(-(atMs - 60_000) / 900_000));
    expect(watched.alarm(ALARM)).toBeUndefined();
  });

  it('may not stay so', () => {
    const watched = reads(poweredCabin(), 1000, 60_000, () => 62).feed(expected(60_000, 'idle', 40));
    reads(watched, 61_000, 3_600_000, () => 62);
    expect(watched.alarm(ALARM)?.active).toBe(true);
  });

  it('may not be hotter than it was allowed to be', () => {
    const watched = reads(poweredCabin(), 1000, 60_000, () => 62).feed(expected(60_000, 'idle', 40));
    reads(watched, 61_000, 75_000, () => 67);
    expect(watched.alarm(ALARM)?.active).toBe(true);
  });

  it('is judged by the new band alone where only something measured made it narrower', () => {
    const watched = reads(poweredCabin(), 1000, 60_000, () => 62).feed(expected(60_000, 'typical', 58));
    reads(watched, 61_000, 75_000, () => 62);
    expect(watched.alarm(ALARM)?.active).toBe(true);
  });
});
