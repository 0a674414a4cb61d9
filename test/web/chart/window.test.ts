import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chartColumns } from '../../../web/chart/window.js';

const SEED = 20250308;

describe('columns for the chart', () => {
  it('are the readings of the window in seconds', () => {
    const columns = { atMs: [0, 1000, 2000, 3000], value: [1, 2, null, 4] };
    expect(chartColumns(columns, 1000, 2500)).toEqual({ seconds: [1, 2], value: [2, null] });
  });

  it('break the line where nothing was measured for long', () => {
    const atMs = [0, 1000, 2000, 30_000, 31_000];
    const { seconds, value } = chartColumns({ atMs, value: [1, 1, 1, 2, 2] }, 0, 60_000);
    expect(seconds).toEqual([0, 1, 2, 2.001, 30, 31]);
    expect(value).toEqual([1, 1, 1, null, 2, 2]);
  });

  it('leave out times that do not rise, and numbers that are none', () => {
    const columns = { atMs: [0, 1000, 1000, 500, 2000], value: [1, NaN, 3, 4, Infinity] };
    expect(chartColumns(columns, 0, 5000)).toEqual({ seconds: [0, 1, 2], value: [1, null, null] });
  });

  it(`are of one length and strictly rising whatever comes in (seed ${SEED})`, () => {
    const time = fc.oneof(fc.integer({ min: -5, max: 99_999 }), fc.constant(NaN));
    const value = fc.oneof(fc.double(), fc.constant(null));
    fc.assert(
      fc.property(fc.array(time), fc.array(value), (atMs, values) => {
        const chart = chartColumns({ atMs, value: values }, 0, 90_000);
        expect(chart.seconds).toHaveLength(chart.value.length);
        expect(chart.seconds.every((at, index) => index === 0 || at > chart.seconds[index - 1]!)).toBe(true);
        expect(chart.value.every((one) => one === null || Number.isFinite(one))).toBe(true);
      }),
      { seed: SEED },
    );
  });
});
