import { describe, expect, it } from 'vitest';
import { outcomeWords, sizeWords, whenWords } from '../../../web/job/job-words.js';
import { firstLook, nextMark, previousMark } from '../../../web/job/marks.js';

const BEGUN = { design: 'signal cabin', load: 'full', startedAt: '2026-11-25T23:40:00.000+09:30' } as const;
const OUTCOME = { file: 'a.ndjson', lengthMs: 1, bytes: 1, intact: true, state: 'intact', running: false };

describe('the words of a recording', () => {
  it('tell the time of the place where it was recorded', () => {
    expect(whenWords(BEGUN)).toBe('25 November 2026, 23:40');
  });

  it.each([
    [900, '1\u00a0kB'],
    [88_131, '89\u00a0kB'],
    [12_345_678, '12.3\u00a0MB'],
  ])('%d bytes: %s', (bytes, words) => {
    expect(sizeWords(bytes)).toBe(words);
  });

  it('tell the gravest alarm with the shape of its priority', () => {
    const worst = { priority: 'high', sentence: 'Logic: 18.5 V, over its limit.' } as const;
    expect(outcomeWords({ ...OUTCOME, alarms: 3, worst })).toEqual({
      standing: 'outside',
      sentence: '3 alarms, the gravest: Logic: 18.5\u00a0V, over its limit.',
    });
    expect(outcomeWords({ ...OUTCOME, alarms: 0, worst: null }).sentence).toBe('No alarm.');
    expect(outcomeWords({ ...OUTCOME, alarms: 0, worst: null, running: true })).toEqual({
      standing: 'waiting',
      sentence: 'No alarm so far.',
    });
  });
});

describe('the marks of a recording', () => {
  const mark = (atMs: number, kind: 'note' | 'alarm') => ({ atMs, kind, point: null, sentence: '' }) as const;
  const marks = [mark(0, 'note'), mark(40_000, 'alarm'), mark(90_000, 'note')];

  it('lead to the one before and the next', () => {
    expect(nextMark(marks, 40_000)?.atMs).toBe(90_000);
    expect(previousMark(marks, 40_000)?.atMs).toBe(0);
    expect(nextMark(marks, 90_000)).toBeNull();
    expect(previousMark(marks, 0)).toBeNull();
  });

  it('say where to look first', () => {
    expect(firstLook(marks, 100_000)).toBe(40_000);
    expect(firstLook([], 100_000)).toBe(30_000);
    expect(firstLook([], 5000)).toBe(5000);
  });
});
