import { firstFrom } from './search.js';
import type { Span } from './span.js';
import type { Columns } from './track.js';

/** What the chart is given: x in seconds, strictly ascending; null is a gap. Both of one length. */
export interface ChartColumns {
  readonly seconds: number[];
  readonly value: (number | null)[];
}

/**
 * The readings of a span with the one before and the one after it, made safe for a chart that checks nothing itself:
 * lengths equal, times finite and strictly ascending, no number that isn't finite. Where there are more readings than
 * `columns` can show apart, each column keeps its lowest and highest one and a gap, so that no spike is hidden. One loop,
 * hot.
 */
export function chartColumns(readings: Columns, { fromMs, toMs }: Span, columns: number): ChartColumns {
  const { atMs } = readings;
  const count = Math.min(atMs.length, readings.value.length);
  const first = Math.max(0, firstFrom(atMs, fromMs, count) - 1);
  const into = new Sieve((toMs - fromMs) / columns, fromMs);
  for (let index = first; index < count; index += 1) {
    const at = atMs[index]!;
    into.add(at, readings.value[index] ?? NaN);
    if (at > toMs) break;
  }
  return into.finish();
}

/** Lets through what a column of the chart needs. */
class Sieve {
  readonly seconds: number[] = [];
  readonly value: (number | null)[] = [];
  readonly #columnMs: number;
  readonly #fromMs: number;
  #column = NaN;
  #lastMs = -Infinity;
  // Times and values of what the column holds; a time of NaN: nothing yet.
  #low = 0;
  #lowMs = NaN;
  #high = 0;
  #highMs = NaN;
  #gapMs = NaN;

  constructor(columnMs: number, fromMs: number) {
    this.#columnMs = columnMs;
    this.#fromMs = fromMs;
  }

  add(atMs: number, value: number): void {
    if (!(atMs > this.#lastMs)) return;
    const column = Math.floor((atMs - this.#fromMs) / this.#columnMs);
    if (column !== this.#column) {
      this.#empty();
      this.#column = column;
    }
    this.#lastMs = atMs;
    if (!Number.isFinite(value)) {
      if (Number.isNaN(this.#gapMs)) this.#gapMs = atMs;
      return;
    }
    if (Number.isNaN(this.#lowMs) || value < this.#low) {
      this.#low = value;
      this.#lowMs = atMs;
    }
    if (Number.isNaN(this.#highMs) || value > this.#high) {
      this.#high = value;
      this.#highMs = atMs;
    }
  }

  finish(): ChartColumns {
    this.#empty();
    return { seconds: this.seconds, value: this.value };
  }

  #empty(): void {
    const [low, high, gap] = [this.#lowMs, this.#highMs, this.#gapMs];
    for (const atMs of [low, high, gap].sort((a, b) => a - b)) {
      if (atMs === gap) this.#put(atMs, NaN);
      else if (atMs === low) this.#put(atMs, this.#low);
      else if (atMs === high) this.#put(atMs, this.#high);
    }
    this.#lowMs = NaN;
    this.#highMs = NaN;
    this.#gapMs = NaN;
  }

  #put(atMs: number, value: number): void {
    if (this.seconds.at(-1) === atMs / 1000) return;
    this.seconds.push(atMs / 1000);
    this.value.push(Number.isFinite(value) ? value : null);
  }
}
