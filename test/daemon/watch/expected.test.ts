import { expect, it } from 'vitest';
import { expectedPrediction } from '../../../daemon/watch/expected.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { CASE_RATING, deepFreeze, PREDICTION, poweredCabin, reading } from './cabin.js';

const expectFrom = (atMs: number, load: 'idle' | 'typical' | 'full', bands: object): WatchEvent =>
  ({ kind: 'expect', atMs, load, step: null, measured: [], bands }) as WatchEvent;

it('judges by the bands that stand now, and by those of the session again when they no longer do', () => {
  const cabin = poweredCabin().feed(
    expectFrom(1000, 'full', { 'reservoir.volts': { low: 14, typical: 15, high: 16 } }),
    reading(1500, 'board raw', 20),
    expectFrom(2000, 'typical', {}),
    reading(2500, 'board raw', 20),
  );
  expect(cabin.verdicts('reservoir.volts')).toEqual(['inside', 'outside', 'inside']);
});

it('never moves a limit', () => {
  const cabin = poweredCabin().feed(
    expectFrom(1000, 'full', { 'logic.case': { low: 90, typical: 110, high: 130 } }),
    ...[2000, 3000, 4000, 5000].map((atMs) => reading(atMs, 'probes t1', 98, 'degC')),
  );
  expect(cabin.alarm('over-limit:logic.case')?.cause).toMatchObject({ limit: CASE_RATING });
});

it('keeps what is not named, and gives the same object for the same bands', () => {
  const expecting = deepFreeze({
    load: 'full' as const,
    step: 'soak',
    measured: [],
    bands: { 'logic.volts': { low: 4.95, typical: 5, high: 5.05 } },
  });
  const now = expectedPrediction(PREDICTION, expecting);
  expect(now.points['logic.volts']).toMatchObject({ low: 4.95, high: 5.05, label: 'logic rail' });
  expect(now.points['lamps.volts']).toBe(PREDICTION.points['lamps.volts']);
  expect(now.load).toBe('full');
  expect(expectedPrediction(PREDICTION, expecting)).toBe(now);
  expect(expectedPrediction(PREDICTION, null)).toBe(PREDICTION);
});
