import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartColumns } from '../../../web/chart/window.js';

const SEED = 20250308;

describe('columns for the chart', () => {
  it('are the readings of the window in seconds, and one on each side of it', () => {
    const columns = { atMs: [0, 1000, 2000, 3000, 4000], value: [1, 2, null, 4, 5] };
    expect(chartColumns(columns, { fromMs: 1000, toMs: 2500 }, 500)).toEqual({
      seconds: [0, 1, 2, 3],
      value: [1, 2, null, 4],
    });
  });

  it('leave out times that do not rise, and numbers that are none', () => {
    const columns = { atMs: [0, 1000, 1000, 500, 2000], value: [1, NaN, 3, 4, Infinity] };
    expect(chartColumns(columns, { fromMs: 0, toMs: 5000 }, 500)).toEqual({
      seconds: [0, 1, 2],
      value: [1, null, null],
    });
  });

  it('of a session without a length are empty', () => {
    expect(chartColumns({ atMs: [], value: [] }, { fromMs: 0, toMs: 0 }, 500).seconds).toEqual([]);
  });

  it(`are of one length and strictly rising whatever comes in (seed ${SEED})`, () => {
    const time = fc.oneof(fc.integer({ min: -5, max: 99_999 }), fc.constant(NaN));
    const value = fc.oneof(fc.double(), fc.constant(null));
    fc.assert(
      fc.property(
        fc.array(time),
        fc.array(value),
        fc.integer({ min: 1, max: 50 }),
        (atMs, values, columns) => {
          const chart = chartColumns({ atMs, value: values }, { fromMs: 0, toMs: 90_000 }, columns);
          expect(chart.seconds).toHaveLength(chart.value.length);
          expect(chart.seconds.every((at, index) => index === 0 || at > chart.seconds[index - 1]!)).toBe(
            true,
          );
          expect(chart.value.every((one) => one === null || Number.isFinite(one))).toBe(true);
        },
      ),
      { seed: SEED },
    );
  });

  it(`hide no spike and no gap, and are few (seed ${SEED})`, () => {
    const odd = fc.array(fc.tuple(fc.nat({ max: 35_999 }), fc.constantFrom(-40, 40, null)), {
      maxLength: 30,
    });
    fc.assert(
      fc.property(odd, fc.integer({ min: 10, max: 900 }), (odds, columns) => {
        const atMs = Array.from({ length: 36_000 }, (_, i) => i * 100);
        const value = atMs.map((at): number | null => Math.sin(at));
        for (const [place, what] of odds) value[place] = what;
        const chart = chartColumns({ atMs, value }, { fromMs: 0, toMs: 3_600_000 }, columns);
        expect(chart.value.length).toBeLessThanOrEqual(5 * (columns + 2));
        const shown = new Set(value.map((one) => one).filter((one) => one === null || Math.abs(one) > 2));
        for (const what of shown) expect(chart.value).toContain(what);
      }),
      { seed: SEED, numRuns: 20 },
    );
  });

  it('of every column hold its lowest and its highest reading', () => {
    const atMs = Array.from({ length: 1000 }, (_, i) => i * 10);
    const value = atMs.map((at) => Math.sin(at * 7) * at);
    const chart = chartColumns({ atMs, value }, { fromMs: 0, toMs: 10_000 }, 20);
    for (let column = 0; column < 20; column += 1) {
      const mine = value.slice(column * 50, column * 50 + 50);
      expect(chart.value).toContain(Math.max(...mine));
      expect(chart.value).toContain(Math.min(...mine));
    }
  });
});
