import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LongHistory, MOST_LONG_SAMPLES, type Sample } from '../../../daemon/serve/long-history.js';

function days(value: (second: number) => number | null): readonly Sample[] {
  const history = new LongHistory(1000);
  for (let second = 0; second < 3 * 86_400; second += 1) history.add([[second * 1000, value(second)]]);
  return history.samples;
}

describe('LongHistory', () => {
  it('stays bounded over three days and reaches back to the start', () => {
    const samples = days((second) => second % 10);
    expect(samples.length).toBeLessThanOrEqual(MOST_LONG_SAMPLES);
    expect(samples[0]?.[0]).toBeLessThan(1_024_000);
    expect(samples.at(-1)?.[0]).toBeGreaterThan(3 * 86_400_000 - 1_024_000);
  });

  it('keeps one single spike of three days, and one single gap', () => {
    const samples = days((second) => (second === 100_000 ? 42 : second === 200_000 ? null : 5));
    expect(samples).toContainEqual([100_000_000, 42]);
    expect(samples).toContainEqual([200_000_000, null]);
  });

  it('keeps the lowest and the highest of any readings, times ascending (fast-check, seed 57)', () => {
    const readings = fc.array(fc.float({ noNaN: true, min: -100, max: 100 }), {
      minLength: 1,
      maxLength: 3000,
    });
    const property = fc.property(readings, (values) => {
      const history = new LongHistory(100);
      history.add(values.map((value, i): Sample => [i * 130, value]));
      const kept = history.samples.map(([, value]) => value ?? 0);
      expect(Math.max(...kept)).toBe(Math.max(...values));
      expect(Math.min(...kept)).toBe(Math.min(...values));
      expect(history.samples.every(([atMs], i) => i === 0 || atMs > (history.samples[i - 1]?.[0] ?? 0))).toBe(
        true,
      );
    });
    fc.assert(property, { seed: 57, numRuns: 30 });
  });
});
