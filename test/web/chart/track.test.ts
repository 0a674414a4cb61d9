import { describe, expect, it } from 'vitest';
import { Track } from '../../../web/chart/track.js';

describe('a track', () => {
  it('stays bounded over days', () => {
    const track = new Track();
    for (let index = 0; index < 200_000; index += 1) track.append(index * 100, index);
    expect(track.columns.atMs.length).toBeLessThanOrEqual(15_000);
    expect(track.columns.atMs.at(-1)).toBe(19_999_900);
    expect(track.columns.value).toHaveLength(track.columns.atMs.length);
  });

  it('takes no reading from the past and no number that is none', () => {
    const track = new Track();
    track.append(1000, 1);
    track.append(500, 9);
    track.append(NaN, 9);
    track.append(2000, Infinity);
    track.append(2000, 3);
    expect(track.columns).toEqual({ atMs: [1000, 2000], value: [1, 3] });
  });

  it('is refilled without losing what only the page remembers', () => {
    const track = new Track();
    for (const atMs of [1000, 2000, 3000]) track.append(atMs, atMs);
    track.refill({ atMs: [2000, 2500, 3500], value: [7, null, 8] });
    expect(track.columns).toEqual({ atMs: [1000, 2000, 2500, 3500], value: [1000, 7, null, 8] });
  });
});
