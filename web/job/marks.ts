import type { MarkView } from '../../daemon/serve/job-views.js';

/** The first mark after a moment; null when there is none. */
export function nextMark(marks: readonly MarkView[], atMs: number): MarkView | null {
  return marks.find((mark) => mark.atMs > atMs) ?? null;
}

/** The last mark before a moment; null when there is none. */
export function previousMark(marks: readonly MarkView[], atMs: number): MarkView | null {
  return marks.findLast((mark) => mark.atMs < atMs) ?? null;
}

/** Where a person looks first: when the first alarm was raised, else once everything has been measured. */
export function firstLook(marks: readonly MarkView[], lengthMs: number): number {
  const alarm = marks.find(({ kind }) => kind === 'alarm');
  return alarm?.atMs ?? Math.min(lengthMs, 30_000);
}

export const MARK_WORDS: Readonly<Record<MarkView['kind'], string>> = {
  alarm: 'alarm',
  over: 'over',
  acknowledged: 'acknowledged',
  probe: 'probe',
  note: 'note',
  load: 'load',
  step: 'step',
  capture: 'waveform',
};
