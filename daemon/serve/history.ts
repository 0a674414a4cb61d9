import { LongHistory, MOST_LONG_SAMPLES, type Sample } from './long-history.js';

/** So far back in session time a page's charts are fine when it opens; before that they are coarser. */
export const HISTORY_MS = 15 * 60_000;
const BUCKETS = 800;
const BUCKET_MS = HISTORY_MS / BUCKETS;
/** First, lowest, highest, last, and one gap. */
const MOST_IN_BUCKET = 5;
/** So much is kept of a point at most. */
export const MOST_SAMPLES = BUCKETS * MOST_IN_BUCKET + MOST_LONG_SAMPLES;

interface Bucket {
  readonly number: number;
  samples: Sample[];
}

/**
 * The session of one test point in bounded memory. Of the last quarter of an hour, where readings are dense, each
 * 1.125 s keeps its first, lowest, highest and last reading and one gap, so that no spike is lost.
 */
export class History {
  #buckets: Bucket[] = [];
  readonly #before = new LongHistory(BUCKET_MS);

  /** Adds a reading at the end; null = a gap. A second one in the same millisecond replaces the first. */
  add(atMs: number, value: number | null): void {
    const number = Math.floor(atMs / BUCKET_MS);
    const last = this.#buckets.at(-1);
    if (last === undefined || last.number < number) {
      this.#buckets.push({ number, samples: [[atMs, value]] });
      this.#forget(number);
      return;
    }
    if (last.samples.at(-1)?.[0] === atMs) last.samples.pop();
    last.samples.push([atMs, value]);
    if (last.samples.length > MOST_IN_BUCKET) last.samples = thinned(last.samples);
  }

  /** The whole session, times ascending. */
  columns(): { readonly atMs: readonly number[]; readonly value: readonly (number | null)[] } {
    const samples = [...this.#before.samples, ...this.#buckets.flatMap((bucket) => bucket.samples)];
    return { atMs: samples.map(([atMs]) => atMs), value: samples.map(([, value]) => value) };
  }

  #forget(newest: number): void {
    const kept = this.#buckets.findIndex(({ number }) => number >= newest - BUCKETS);
    if (kept <= 0) return;
    this.#before.add(this.#buckets.splice(0, kept).flatMap(({ samples }) => samples));
  }
}

function thinned(samples: readonly Sample[]): Sample[] {
  const keep = new Set<Sample | undefined>([samples[0], samples.at(-1)]);
  keep.add(samples.find(([, value]) => value === null));
  const numbers = samples.filter(([, value]) => value !== null);
  keep.add(extreme(numbers, (a, b) => a < b));
  keep.add(extreme(numbers, (a, b) => a > b));
  return samples.filter((sample) => keep.has(sample));
}

function extreme(
  samples: readonly Sample[],
  isBetter: (a: number, b: number) => boolean,
): Sample | undefined {
  let best = samples[0];
  for (const sample of samples) if (isBetter(sample[1] ?? 0, best?.[1] ?? 0)) best = sample;
  return best;
}
