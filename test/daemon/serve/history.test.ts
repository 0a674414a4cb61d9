import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { History, HISTORY_MS, MOST_SAMPLES } from '../../../daemon/serve/history.js';

describe('History', () => {
  it('keeps every reading where they are sparse, gaps included', () => {
    const history = new History();
    history.add(0, 1);
    history.add(400, 2);
    history.add(800, null);
    history.add(5_000, 3);
    expect(history.columns()).toEqual({ atMs: [0, 400, 800, 5_000], value: [1, 2, null, 3] });
  });

  it('keeps what is older than a quarter of an hour coarser, back to the start, its spikes among it', () => {
    const history = new History();
    for (let second = 0; second <= 8 * 3_600; second += 1) {
      history.add(second * 1000, second === 777 ? 99 : 5 + (second % 7) / 10);
    }
    const { atMs, value } = history.columns();
    expect(atMs[0]).toBeLessThan(120_000);
    expect(value).toContain(99);
    expect(atMs.length).toBeLessThanOrEqual(MOST_SAMPLES);
    const fine = atMs.filter((at) => at > 8 * 3_600_000 - HISTORY_MS);
    expect(fine).toHaveLength(900);
  });

  it('holds a bounded number of samples at any rate and keeps every spike (fast-check, seed 52)', () => {
    const spikes = fc.uniqueArray(fc.nat({ max: 899 }), { minLength: 1, maxLength: 20 });
    const property = fc.property(spikes, (seconds) => {
      const history = new History();
      for (let atMs = 0; atMs < HISTORY_MS; atMs += 20) {
        const spike = seconds.includes(atMs / 1000) ? 9 : 5 + Math.sin(atMs);
        history.add(atMs, spike);
      }
      const { atMs, value } = history.columns();
      expect(atMs.length).toBeLessThanOrEqual(MOST_SAMPLES);
      expect(atMs.every((time, i) => i === 0 || time > (atMs[i - 1] ?? 0))).toBe(true);
      const kept = atMs.filter((_, i) => value[i] === 9).length;
      const buckets = new Set(seconds.map((second) => Math.floor((second * 1000) / 1125)));
      expect(kept).toBeGreaterThanOrEqual(buckets.size);
    });
    fc.assert(property, { seed: 52, numRuns: 10 });
  });

  it('keeps a gap among dense readings', () => {
    const history = new History();
    for (let atMs = 0; atMs < 1_000; atMs += 10) history.add(atMs, atMs === 500 ? null : 5);
    expect(history.columns().value).toContain(null);
  });

  it('has one sample a millisecond: the newest', () => {
    const history = new History();
    history.add(7, 1);
    history.add(7, 2);
    expect(history.columns()).toEqual({ atMs: [7], value: [2] });
  });
});
