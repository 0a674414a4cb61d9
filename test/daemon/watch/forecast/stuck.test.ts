import { describe, expect, it } from 'vitest';
import type { Change } from '../../../../daemon/watch/forecast/change.js';
import { NOT_FOLLOWED } from '../../../../daemon/watch/forecast/follow-state.js';
import { followTemperature } from '../../../../daemon/watch/forecast/follow.js';
import { NOTHING_KNOWN } from '../../../../daemon/watch/forecast/prior.js';
import { normalNoise } from '../random.js';

type Reading = readonly [seconds: number, celsius: number];

/** 22 + 60·(1 - exp(-t/200)) after ten seconds of rest, closed form of one heat capacity and one loss. */
function warmUp(countK: number, noiseK: number, frozenS: number, seed: number): readonly Reading[] {
  const noise = normalNoise(seed);
  let frozen = NaN;
  return Array.from({ length: 1500 }, (_, second) => {
    const celsius = 22 + 60 * (1 - Math.exp(-Math.max(0, second - 10) / 200)) + noiseK * noise();
    const shown = Math.round(celsius / countK) * countK;
    if (second >= frozenS && Number.isNaN(frozen)) frozen = shown;
    return [second, second >= frozenS ? frozen : shown];
  });
}

function changesOf(readings: Iterable<Reading>, resolutionK: number): readonly (readonly [number, Change])[] {
  let state = NOT_FOLLOWED;
  const changes: (readonly [number, Change])[] = [];
  for (const [seconds, celsius] of readings) {
    const context = { prior: NOTHING_KNOWN, limits: [], resolutionK };
    const { state: next, news } = followTemperature(state, 1000 * seconds, celsius, context);
    state = next;
    if (news !== null && news.change !== null) changes.push([seconds, news.change]);
  }
  return changes;
}

describe('a reading that stands still (seed 4)', () => {
  it.each([
    ['while the part warms, in tenths', 0.1, 0.1, 100],
    ['once the part has settled, in tenths with noise', 0.1, 0.15, 1300],
    ['while the part warms, in whole degrees', 1, 0.1, 60],
  ] as const)('%s is told within a minute and nothing else', (_, countK, noiseK, frozenS) => {
    const [first, ...others] = changesOf(warmUp(countK, noiseK, frozenS, 4), countK);
    expect(first?.[1]).toBe('stuck');
    expect(first?.[0]).toBeGreaterThan(frozenS);
    expect(first?.[0]).toBeLessThanOrEqual(frozenS + 60);
    expect(others).toEqual([]);
  });

  it('in whole degrees is right once the part has settled', () => {
    expect(changesOf(warmUp(1, 0, Infinity, 4), 1)).toEqual([]);
  });
});
