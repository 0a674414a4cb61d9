import { describe, expect, it } from 'vitest';
import {
  bandVerdict,
  conformanceProbability,
  crossedLimit,
  halfWidth,
  leaningOf,
  outcomeOf,
  verdictOf,
} from '../../../daemon/watch/compare.js';
import { CASE_RATING, LOGIC_HIGH, LOGIC_LOW } from './cabin.js';

describe('half-width from what a meter maker states', () => {
  // Worked examples of a handheld-meter accuracy note; the third is exactly 0.009775 before its rounding.
  const accuracyNote = [
    { value: 120, percent: 1, counts: 3, resolution: 0.1, expected: 1.5 },
    { value: 2, percent: 0.08, counts: 2, resolution: 0.001, expected: 0.0036 },
    { value: 1.755, percent: 0.5, counts: 1, resolution: 0.001, expected: 0.009775 },
    { value: 100, percent: 1, counts: 2, resolution: 0.1, expected: 1.2 },
    { value: 2, percent: 0.5, counts: 3, resolution: 0.001, expected: 0.013 },
  ];
  it.each(accuracyNote)('$value ± ($percent % + $counts)', ({ value, expected, ...accuracy }) => {
    expect(halfWidth(value, accuracy)).toBeCloseTo(expected, 9);
  });

  it('is the same below zero, and nothing when nothing is known', () => {
    expect(halfWidth(-120, { percent: 1, counts: 3, resolution: 0.1 })).toBeCloseTo(1.5, 9);
    expect(halfWidth(120, undefined)).toBe(0);
    expect(halfWidth(120, { percent: 1, counts: 3 })).toBeCloseTo(1.2, 9);
  });
});

describe('a value against the band', () => {
  // Decision rule after ILAC-G8 and ISO 14253-1: pass y <= TL - w; neither proved between; fail y > TL + w.
  // With the tolerance limit 10 and w = 1:
  it.each([
    [9, 'inside'],
    [9.01, 'doubtful'],
    [10, 'doubtful'],
    [11, 'doubtful'],
    [11.01, 'outside'],
    [-9, 'inside'],
    [-9.01, 'doubtful'],
    [-11.01, 'outside'],
  ] as const)('%d ± 1 in -10 … 10 is %s', (value, expected) => {
    expect(bandVerdict(value, -10, 10, 1)).toBe(expected);
  });

  it('is simple acceptance when the guard band is nothing (ILAC-G8: w = 0)', () => {
    expect(bandVerdict(10, 0, 10, 0)).toBe('inside');
    expect(bandVerdict(10.001, 0, 10, 0)).toBe('outside');
  });

  it('is never inside when the meter is coarser than the band', () => {
    expect(bandVerdict(5, 4.9, 5.1, 0.2)).toBe('doubtful');
    expect(bandVerdict(5.31, 4.9, 5.1, 0.2)).toBe('outside');
  });
});

describe('the four outcomes', () => {
  // ILAC-G8 as a decision-rule page gives it, tolerance limit 10 and w = 1: pass y <= TL - w; conditional pass to TL;
  // conditional fail to TL + w; fail beyond.
  it.each([
    [8, 'pass'],
    [9, 'pass'],
    [9.01, 'conditional-pass'],
    [10, 'conditional-pass'],
    [10.01, 'conditional-fail'],
    [11, 'conditional-fail'],
    [11.01, 'fail'],
    [-10.5, 'conditional-fail'],
    [-11.5, 'fail'],
  ] as const)('%d ± 1 in -10 … 10: %s', (value, expected) => {
    expect(outcomeOf(value, -10, 10, 1)).toBe(expected);
  });

  // ISO 14253-1 as web copies describe it: conformity is proved from LSL + U to USL - U, non-conformity from USL + U.
  // Meters of the accuracy note: 0.08 % + 2 counts of 1 mV at 2.000 V is ±3.6 mV; 1 % + 2 counts of 0.1 V at 100.0 V ±1.2 V.
  it.each([
    [2, 1.9, 2.004, { percent: 0.08, counts: 2, resolution: 0.001 }, 'pass'],
    [2, 1.9, 2.003, { percent: 0.08, counts: 2, resolution: 0.001 }, 'conditional-pass'],
    [100, 90, 99, { percent: 1, counts: 2, resolution: 0.1 }, 'conditional-fail'],
    [100, 90, 98.7, { percent: 1, counts: 2, resolution: 0.1 }, 'fail'],
  ] as const)('%d V in %d … %d V by such a meter', (value, low, high, accuracy, expected) => {
    expect(outcomeOf(value, low, high, halfWidth(value, accuracy))).toBe(expected);
  });

  it('know no condition without a guard band, and lean by the bare value', () => {
    expect(outcomeOf(10, 0, 10, 0)).toBe('pass');
    expect(outcomeOf(10.001, 0, 10, 0)).toBe('fail');
    expect(leaningOf(10, 0, 10)).toBe('inside');
    expect(leaningOf(10.001, 0, 10)).toBe('outside');
  });
});

describe('limits', () => {
  const logic = { low: 4.6, high: 6, limits: [LOGIC_LOW, LOGIC_HIGH] };

  it('count from the limit itself, on the bare value, whatever band and meter say', () => {
    expect(verdictOf(5.499, logic, 0)).toBe('inside');
    expect(verdictOf(5.5, logic, 0)).toBe('outside');
    expect(verdictOf(5.5, logic, 1)).toBe('outside');
    expect(verdictOf(4.75, logic, 0)).toBe('outside');
    expect(verdictOf(4.751, logic, 0)).toBe('inside');
  });

  it('a temperature that is still warming up is inside, a colder one is not', () => {
    const tab = { low: 40, high: 70, coldest: 10, limits: [] };
    expect(verdictOf(22, tab, 0)).toBe('inside');
    expect(verdictOf(8, tab, 0)).toBe('outside');
    expect(verdictOf(71, tab, 0)).toBe('outside');
  });

  it('the gravest is told: damage before rating, then the furthest out', () => {
    const abort = { ...CASE_RATING, value: 110 };
    const melts = { ...CASE_RATING, kind: 'damage' as const, value: 100 };
    expect(crossedLimit(96.9, [CASE_RATING, abort])).toBeNull();
    expect(crossedLimit(98, [abort, CASE_RATING])).toBe(CASE_RATING);
    expect(crossedLimit(111, [CASE_RATING, abort])).toBe(abort);
    expect(crossedLimit(111, [abort, melts, CASE_RATING])).toBe(melts);
  });
});

describe('conformance probability', () => {
  // JCGM 106: at the tolerance limit a half; a guard band w = U = 2u leaves 1 - Phi(2) = 2.275 % outside.
  it('is a half at an edge and 97.7 % one guard band inside it', () => {
    expect(conformanceProbability(10, -10, 10, 1)).toBeCloseTo(0.5, 6);
    expect(conformanceProbability(9, -10, 10, 1)).toBeCloseTo(0.97725, 5);
    expect(conformanceProbability(11, -10, 10, 1)).toBeCloseTo(0.02275, 5);
  });

  // Phi from the table of the standard normal distribution, any statistics textbook: Phi(0.5) = 0.6915,
  // Phi(1) = 0.8413, Phi(1.5) = 0.9332, Phi(1.645) = 0.9500.
  it.each([
    [9.75, 0.6915],
    [9.5, 0.8413],
    [9.25, 0.9332],
    [9.1775, 0.95],
    [10.5, 0.1587],
  ])('of %d with u = 0.5 under an edge at 10 is %d', (value, expected) => {
    expect(conformanceProbability(value, -100, 10, 1)).toBeCloseTo(expected, 4);
  });

  it('of a band as wide as the meter’s own doubt takes from both edges: Phi(1) - Phi(-1) = 0.6827', () => {
    expect(conformanceProbability(5, 4.5, 5.5, 1)).toBeCloseTo(0.6827, 4);
  });

  it('is certain with a perfect meter', () => {
    expect(conformanceProbability(10, 0, 10, 0)).toBe(1);
    expect(conformanceProbability(10.1, 0, 10, 0)).toBe(0);
  });
});
