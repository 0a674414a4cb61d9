import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Decimator } from '../../../../daemon/record/session/decimator.js';

it('loses no extreme and no reading, in bounded memory (fast-check, seed 600)', () => {
  const readings = fc.array(fc.tuple(fc.nat({ max: 30_000_000 }), fc.integer({ min: -500, max: 500 })), {
    minLength: 1,
    maxLength: 400,
  });
  fc.assert(
    fc.property(readings, (values) => {
      const decimator = new Decimator(20);
      for (const [atMs, value] of values) decimator.add(atMs, value);
      const buckets = decimator.buckets();
      const all = values.map(([, value]) => value);
      expect(buckets.length).toBeLessThanOrEqual(20);
      expect(Math.min(...buckets.map(({ low }) => low))).toBe(Math.min(...all));
      expect(Math.max(...buckets.map(({ high }) => high))).toBe(Math.max(...all));
      expect(buckets.reduce((sum, { count }) => sum + count, 0)).toBe(values.length);
      const total = buckets.reduce((sum, { mean, count }) => sum + mean * count, 0);
      expect(total).toBeCloseTo(
        all.reduce((sum, value) => sum + value, 0),
        6,
      );
      for (const { fromMs, toMs } of buckets) expect(fromMs).toBeLessThan(toMs);
    }),
    { seed: 600, numRuns: 200 },
  );
});
