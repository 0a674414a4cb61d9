import { describe, expect, it } from 'vitest';
import { curveColumns, extremesIn, meanAt } from '../../../web/job/curve-columns.js';

const CURVE = {
  atMs: [1000, 2000, 3000, 20_000, 21_000],
  low: [1, 2, 3, 4, 5],
  mean: [1.5, 2.5, 3.5, 4.5, 5.5],
  high: [2, 3, 9, 5, 6],
  gapMs: 5000,
};

describe('a recorded curve', () => {
  it('has a gap where nothing was measured', () => {
    const [seconds, value] = curveColumns(CURVE);
    expect(value).toEqual([1.5, 2.5, 3.5, null, 4.5, 5.5]);
    expect(seconds).toEqual([...seconds].sort((a, b) => a - b));
    expect(new Set(seconds).size).toBe(seconds.length);
  });

  it('leaves out times that go back', () => {
    expect(curveColumns({ ...CURVE, atMs: [1000, 900, 1000, 20_000, 21_000] })[0]).toHaveLength(4);
  });

  it('keeps every extreme of a stretch', () => {
    expect(extremesIn(CURVE, { fromMs: 0, toMs: 30_000 })).toEqual([1, 9]);
    expect(extremesIn(CURVE, { fromMs: 4000, toMs: 19_000 })).toBeNull();
  });

  it.each([
    [0, 1.5],
    [2400, 2.5],
    [2600, 3.5],
    [12_000, null],
    [21_500, 5.5],
    [90_000, null],
  ])('at %d ms stands at %s', (atMs, value) => {
    expect(meanAt(CURVE, atMs)).toBe(value);
  });

  it('without a reading has nothing', () => {
    const none = { atMs: [], low: [], mean: [], high: [], gapMs: 1000 };
    expect(curveColumns(none)).toEqual([[], []]);
    expect(meanAt(none, 0)).toBeNull();
  });
});
