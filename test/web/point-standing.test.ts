import { describe, expect, it } from 'vitest';
import { standingOf, standingWords, worstStanding } from '../../web/point-standing.js';
import { POINTS } from './signal-cabin.js';

const point = POINTS.find((one) => one.id === 'logic.case')!;

describe('a verdict is shown', () => {
  it('only for a fresh number on a live page', () => {
    expect(standingOf({ ...point, verdict: 'doubtful' }, true)).toBe('doubtful');
    expect(standingOf({ ...point, verdict: 'inside' }, false)).toBe('not-live');
    expect(standingOf({ ...point, stale: true }, true)).toBe('stale');
    expect(standingOf({ ...point, mark: 'overload' }, true)).toBe('overload');
    expect(standingOf({ ...point, mark: 'out-of-range' }, true)).toBe('unreadable');
    expect(standingOf({ ...point, value: null }, true)).toBe('waiting');
    expect(standingOf({ ...point, measuredBy: null }, false)).toBe('not-measured');
  });
});

it('the worst of a part is what its stop shows', () => {
  expect(worstStanding(['inside', 'stale', 'doubtful'])).toBe('stale');
  expect(worstStanding(['not-measured', 'inside'])).toBe('inside');
  expect(worstStanding([])).toBe('not-measured');
});

it('a temperature below where it settles is warming up', () => {
  const tab = { ...point, low: 43, value: 27, verdict: 'inside' as const };
  expect(standingWords(tab, 'inside')).toBe('warming up');
  expect(standingWords({ ...tab, value: 44 }, 'inside')).toBe('inside');
  expect(standingWords(tab, 'stale')).toBe('stale');
});
