import type { Columns } from './track.js';

/** Silence of this many usual intervals is a gap in the signal. */
const GAP_INTERVALS = 5;
const SHORTEST_GAP_MS = 3000;

/** What the chart is given: x in seconds, strictly ascending; null is a gap. Both of one length. */
export interface ChartColumns {
  readonly seconds: number[];
  readonly value: (number | null)[];
}

/**
 * The readings from `fromMs` to `toMs`, made safe for a chart that checks nothing itself: lengths equal, times
 * finite and strictly ascending, no number that isn't finite. Silence becomes a gap, so that no line is
 * drawn across a time in which nothing was measured.
 */
export function chartColumns(columns: Columns, fromMs: number, toMs: number): ChartColumns {
  const seconds: number[] = [];
  const value: (number | null)[] = [];
  const gapMs = Math.max(SHORTEST_GAP_MS, GAP_INTERVALS * usualIntervalMs(columns));
  let lastMs = -Infinity;
  const count = Math.min(columns.atMs.length, columns.value.length);
  for (let index = firstFrom(columns.atMs, fromMs); index < count; index += 1) {
    const atMs = columns.atMs[index] ?? NaN;
    if (!(atMs > lastMs)) continue;
    if (atMs > toMs) break;
    if (atMs - lastMs > gapMs && seconds.length > 0) {
      seconds.push((lastMs + 1) / 1000);
      value.push(null);
    }
    const reading = columns.value[index] ?? null;
    seconds.push(atMs / 1000);
    value.push(reading !== null && Number.isFinite(reading) ? reading : null);
    lastMs = atMs;
  }
  return { seconds, value };
}

/** The median time between the newest readings, in ms. */
function usualIntervalMs({ atMs }: Columns): number {
  const recent = atMs.slice(-21);
  const steps = recent.slice(1).map((at, index) => at - (recent[index] ?? at));
  return steps.sort((a, b) => a - b)[steps.length >> 1] ?? 0;
}

/** The index of the first time at or after `fromMs`, by halving. */
function firstFrom(atMs: readonly number[], fromMs: number): number {
  let low = 0;
  let high = atMs.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((atMs[middle] ?? Infinity) < fromMs) low = middle + 1;
    else high = middle;
  }
  return low;
}
