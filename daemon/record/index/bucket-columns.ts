import type { Bucket } from '../session/decimator.js';

/** Buckets of equal width as columns of numbers: a third of the size, and several times faster to parse. */
export interface BucketColumns {
  readonly widthMs: number;
  /** Which multiples of the width. */
  readonly places: readonly number[];
  readonly low: readonly number[];
  readonly high: readonly number[];
  readonly mean: readonly number[];
  readonly count: readonly number[];
}

/** More digits than any meter's reading has. */
const MEAN_DIGITS = 12;

export function toColumns(buckets: readonly Bucket[]): BucketColumns {
  const [first] = buckets;
  const widthMs = first === undefined ? 1 : first.toMs - first.fromMs;
  return {
    widthMs,
    places: buckets.map(({ fromMs }) => Math.round(fromMs / widthMs)),
    low: buckets.map(({ low }) => low),
    high: buckets.map(({ high }) => high),
    mean: buckets.map(({ mean }) => Number(mean.toPrecision(MEAN_DIGITS))),
    count: buckets.map(({ count }) => count),
  };
}

export function fromColumns({ widthMs, places, low, high, mean, count }: BucketColumns): readonly Bucket[] {
  return places.map((place, i) => ({
    fromMs: place * widthMs,
    toMs: (place + 1) * widthMs,
    low: low[i] ?? NaN,
    high: high[i] ?? NaN,
    mean: mean[i] ?? NaN,
    count: count[i] ?? 0,
  }));
}
