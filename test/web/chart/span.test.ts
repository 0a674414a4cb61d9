import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { panned, SHORTEST_MS, spanOf, zoomed, type Wish } from '../../../web/chart/span.js';

const NOW = { nowMs: 3_600_000, hasForecast: false };
const LAST_5_MIN: Wish = { lengthMs: 300_000, endMs: null };
const WHOLE: Wish = { lengthMs: Infinity, endMs: null };

describe('what is shown', () => {
  it('is the last minutes up to now, or the whole session', () => {
    expect(spanOf(LAST_5_MIN, NOW)).toEqual({ fromMs: 3_300_000, toMs: 3_600_000 });
    expect(spanOf(WHOLE, NOW)).toEqual({ fromMs: 0, toMs: 3_600_000 });
  });

  it('is some of the future too where something is forecast', () => {
    expect(spanOf(LAST_5_MIN, { ...NOW, hasForecast: true }).toMs).toBe(3_675_000);
  });

  it('has a length before the first second', () => {
    const { fromMs, toMs } = spanOf(WHOLE, { nowMs: 0, hasForecast: false });
    expect(toMs - fromMs).toBe(SHORTEST_MS);
  });
});

describe('zooming', () => {
  it('keeps the moment under the pointer where it is', () => {
    const wish = { lengthMs: 100_000, endMs: 2_000_000 };
    const around = 1_950_000;
    const before = spanOf(wish, NOW);
    const after = spanOf(zoomed(wish, 0.5, around, NOW), NOW);
    const share = ({ fromMs, toMs }: typeof before) => (around - fromMs) / (toMs - fromMs);
    expect(after.toMs - after.fromMs).toBe(50_000);
    expect(share(after)).toBeCloseTo(share(before), 9);
  });

  it('while it follows goes on following, out to the whole session', () => {
    const wide = zoomed({ lengthMs: 3_000_000, endMs: null }, 2, 0, NOW);
    expect(wide).toEqual(WHOLE);
    expect(zoomed(WHOLE, 0.5, 0, NOW)).toEqual({ lengthMs: 1_800_000, endMs: null });
  });
});

describe('panning', () => {
  it('goes back, stops at the start, and follows again at the end', () => {
    const back = panned(LAST_5_MIN, -150_000, NOW);
    expect(spanOf(back, NOW)).toEqual({ fromMs: 3_150_000, toMs: 3_450_000 });
    expect(spanOf(panned(back, -9e9, NOW), NOW)).toEqual({ fromMs: 0, toMs: 300_000 });
    expect(panned(back, 9e9, NOW)).toEqual(LAST_5_MIN);
  });
});

it('whatever is asked, a span is shown that rises and lies in the session (fast-check, seed 58)', () => {
  const step = fc.oneof(
    fc.record({ zoom: fc.double({ min: 0.01, max: 100, noNaN: true }), at: fc.nat({ max: 3_600_000 }) }),
    fc.record({ pan: fc.integer({ min: -9e6, max: 9e6 }) }),
  );
  const property = fc.property(fc.array(step, { maxLength: 30 }), fc.boolean(), (steps, hasForecast) => {
    let wish = LAST_5_MIN;
    const extent = { ...NOW, hasForecast };
    for (const one of steps) {
      wish = 'pan' in one ? panned(wish, one.pan, extent) : zoomed(wish, one.zoom, one.at, extent);
      const { fromMs, toMs } = spanOf(wish, extent);
      expect(toMs - fromMs).toBeGreaterThanOrEqual(SHORTEST_MS - 1e-6);
      expect(fromMs).toBeGreaterThanOrEqual(-1e-6);
      expect(toMs).toBeLessThanOrEqual(3_600_000 + 600_001);
    }
  });
  fc.assert(property, { seed: 58 });
});
