import { describe, expect, it } from 'vitest';
import { MOST_READINGS, Track } from '../../../web/chart/track.js';

function plain({ columns }: Track) {
  return { atMs: Array.from(columns.atMs), value: Array.from(columns.value) };
}

describe('a track', () => {
  it('keeps every reading of an hour at ten a second', () => {
    const track = new Track();
    for (let index = 0; index < 36_000; index += 1) track.append(index * 100, index);
    expect(track.columns.atMs).toHaveLength(36_000);
  });

  it('stays bounded over days, reaches back to the start and keeps a single spike', () => {
    const track = new Track();
    for (let index = 0; index < 3_000_000; index += 1) track.append(index * 100, index === 70_001 ? 99 : 5);
    const { atMs, value } = plain(track);
    expect(atMs.length).toBeLessThanOrEqual(MOST_READINGS);
    expect(atMs[0]).toBeLessThan(60_000);
    expect(atMs.at(-1)).toBe(299_999_900);
    expect(value[atMs.indexOf(7_000_100)]).toBe(99);
    expect(value).toHaveLength(atMs.length);
  });

  it('takes no reading from the past and no number that is none', () => {
    const track = new Track();
    track.append(1000, 1);
    track.append(500, 9);
    track.append(NaN, 9);
    track.append(2000, null);
    track.append(2000, 3);
    track.append(2500, null);
    expect(plain(track)).toEqual({ atMs: [1000, 2000, 2500], value: [1, 3, NaN] });
  });

  it('is refilled without losing what only the page remembers', () => {
    const track = new Track();
    for (const atMs of [1000, 2000, 3000]) track.append(atMs, atMs);
    track.refill({ atMs: [500, 2000, 2500, 3500], value: [6, 7, null, 8] });
    expect(plain(track)).toEqual({
      atMs: [500, 1000, 2000, 2500, 3000, 3500],
      value: [6, 1000, 2000, NaN, 3000, 8],
    });
  });
});
