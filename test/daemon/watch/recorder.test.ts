import { expect, it } from 'vitest';
import { poweredCabin } from './cabin.js';

const recorder = (atMs: number, writing: boolean, why = '') =>
  ({ kind: 'recorder', atMs, writing, why }) as const;

it('a recording that isn’t written is an alarm at once, until it is', () => {
  const watched = poweredCabin().feed(recorder(0, true));
  expect(watched.state.alarms).toEqual([]);
  watched.feed(recorder(100, false, 'the disk is full'));
  expect(watched.alarm('not-recording')).toMatchObject({ priority: 'medium', active: true });
  watched.feed(recorder(200, true));
  expect(watched.told('not-recording').at(-1)).toEqual([200, 'returned']);
});

it('a disk that comes and goes is one alarm, which returns by itself when the minute is over', () => {
  const watched = poweredCabin();
  for (let atMs = 0; atMs < 30_000; atMs += 1000) {
    watched.feed(recorder(atMs, false, 'I/O error'), recorder(atMs + 500, true));
  }
  expect(watched.told('not-recording').filter(([, change]) => change === 'raised')).toHaveLength(2);
  watched.feed({ kind: 'tick', atMs: 60_001 });
  expect(watched.told('not-recording').at(-1)).toEqual([60_001, 'returned']);
});
