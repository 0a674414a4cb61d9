import { describe, expect, it } from 'vitest';
import { Levels } from '../../../web/chart/levels.js';
import { chartColumns } from '../../../web/chart/window.js';

const HOUR = { fromMs: 0, toMs: 3_600_000 };
const atMs = Float64Array.from({ length: 36_000 }, (_, i) => i * 100);
const value = Float64Array.from(atMs, (at, i) => (i === 12_345 ? 99 : i === 23_456 ? -99 : Math.sin(at)));

describe('the levels of a chart', () => {
  it('are the readings themselves where a column holds few', () => {
    const readings = { atMs, value };
    expect(new Levels().for(readings, { fromMs: 0, toMs: 60_000 }, 500)).toBe(readings);
  });

  it('are few where it holds many, and hide neither spike', () => {
    const coarse = new Levels().for({ atMs, value }, HOUR, 500);
    expect(coarse.atMs.length).toBeLessThan(5000);
    const { value: drawn } = chartColumns(coarse, HOUR, 500);
    expect(drawn).toContain(99);
    expect(drawn).toContain(-99);
  });

  it('are made again when a reading came', () => {
    const levels = new Levels();
    const first = levels.for({ atMs, value }, HOUR, 500);
    expect(levels.for({ atMs, value }, HOUR, 500)).toBe(first);
    const more = { atMs: Float64Array.from([...atMs, 3_600_000]), value: Float64Array.from([...value, 77]) };
    expect(Array.from(levels.for(more, HOUR, 500).value)).toContain(77);
  });
});
