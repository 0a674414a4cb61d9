import { describe, expect, it } from 'vitest';
import { changePerMinute, steadyForMs, trendWords } from '../../../web/chart/trend.js';
import { POINTS } from '../signal-cabin.js';

const seconds = (count: number): number[] => Array.from({ length: count }, (_, index) => index * 1000);
const logicCase = POINTS.find((point) => point.id === 'logic.case')!;

describe('the trend', () => {
  it('of a straight line is its slope', () => {
    const atMs = seconds(40);
    // 0.05 °C a second is 3 °C a minute.
    expect(changePerMinute({ atMs, value: atMs.map((at) => 20 + at * 0.00005) })).toBeCloseTo(3, 9);
  });

  it('is put in words with the unit', () => {
    const atMs = seconds(40);
    const words = (slope: number) =>
      trendWords(logicCase, { atMs, value: atMs.map((at) => 60 + (at / 60_000) * slope) });
    expect(words(3).replaceAll('\u00a0', ' ')).toBe('rising 3.0 °C a minute');
    expect(words(-2).replaceAll('\u00a0', ' ')).toBe('falling 2.0 °C a minute');
    expect(words(0.2)).toBe('steady');
  });

  it('is not guessed from too little, nor across a gap', () => {
    expect(changePerMinute({ atMs: seconds(3), value: [1, 2, 3] })).toBeNull();
    expect(changePerMinute({ atMs: seconds(6), value: [1, 2, 3, null, 4, 5] })).toBeNull();
    expect(changePerMinute({ atMs: [], value: [] })).toBeNull();
  });
});

describe('steadiness', () => {
  it('counts back to the last time the value was elsewhere', () => {
    expect(steadyForMs({ atMs: seconds(6), value: [20, 30, 40, 40.4, 39.9, 40] }, 1)).toBe(3000);
  });

  it('ends at a gap and is unknown without a reading', () => {
    expect(steadyForMs({ atMs: seconds(4), value: [40, null, 40, 40] }, 1)).toBe(1000);
    expect(steadyForMs({ atMs: [0], value: [null] }, 1)).toBeNull();
    expect(steadyForMs({ atMs: [], value: [] }, 1)).toBeNull();
  });
});
