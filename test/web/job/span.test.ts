import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { including, moved, within, zoomed } from '../../../web/job/span.js';

const LENGTH_MS = 300_000;
const WHOLE = { fromMs: 0, toMs: LENGTH_MS };

describe('a stretch of a recording', () => {
  it('is halved around the moment that is looked at', () => {
    expect(zoomed(WHOLE, 0.5, 150_000, LENGTH_MS)).toEqual({ fromMs: 75_000, toMs: 225_000 });
    expect(zoomed(WHOLE, 0.5, 0, LENGTH_MS)).toEqual({ fromMs: 0, toMs: 150_000 });
  });

  it('moves by half of itself, and not beyond the session', () => {
    const span = { fromMs: 100_000, toMs: 200_000 };
    expect(moved(span, 0.5, LENGTH_MS)).toEqual({ fromMs: 150_000, toMs: 250_000 });
    expect(moved(span, -5, LENGTH_MS)).toEqual({ fromMs: 0, toMs: 100_000 });
    expect(moved(span, 5, LENGTH_MS)).toEqual({ fromMs: 200_000, toMs: 300_000 });
  });

  it('follows a moment that leaves it', () => {
    const span = { fromMs: 0, toMs: 100_000 };
    expect(including(span, 50_000, LENGTH_MS)).toBe(span);
    expect(including(span, 150_000, LENGTH_MS)).toEqual({ fromMs: 140_000, toMs: 240_000 });
  });

  it('stays inside the session and wide enough, whatever is done to it (fast-check, seed 8)', () => {
    const some = fc.integer({ min: -1_000_000, max: 1_000_000 });
    const property = fc.property(
      some,
      some,
      fc.integer({ min: 1, max: 1_000_000 }),
      (fromMs, toMs, lengthMs) => {
        const span = within({ fromMs, toMs }, lengthMs);
        expect(span.fromMs).toBeGreaterThanOrEqual(0);
        expect(span.toMs).toBeGreaterThan(span.fromMs);
        expect(span.toMs).toBeLessThanOrEqual(Math.max(1, lengthMs));
        expect(span.toMs - span.fromMs).toBeGreaterThanOrEqual(Math.min(lengthMs, 2000));
      },
    );
    fc.assert(property, { seed: 8 });
  });
});
