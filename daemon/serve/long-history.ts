/** A reading at its time; null = a gap. */
export type Sample = readonly [atMs: number, value: number | null];

/** However long the session is. */
export const MOST_LONG_BUCKETS = 600;
/** Of what a bucket holds: lowest, highest, and one gap. */
const SAMPLES_A_BUCKET = 3;
export const MOST_LONG_SAMPLES = MOST_LONG_BUCKETS * SAMPLES_A_BUCKET;

interface Bucket {
  readonly number: number;
  readonly samples: readonly Sample[];
}

/**
 * One test point from the session's start in bounded memory: each stretch of time keeps its lowest and highest
 * reading and one gap, so that no spike is lost. The stretches double whenever there are too many.
 */
export class LongHistory {
  #widthMs: number;
  #buckets: Bucket[] = [];

  /** @param widthMs of a stretch, to begin with. */
  constructor(widthMs: number) {
    this.#widthMs = widthMs;
  }

  /** Times ascending. */
  get samples(): readonly Sample[] {
    return this.#buckets.flatMap(({ samples }) => samples);
  }

  /** Adds readings that are later than all before. */
  add(samples: readonly Sample[]): void {
    for (const sample of samples) this.#put(Math.floor(sample[0] / this.#widthMs), [sample]);
    if (this.#buckets.length > MOST_LONG_BUCKETS) this.#widen();
  }

  #put(number: number, samples: readonly Sample[]): void {
    const last = this.#buckets.at(-1);
    if (last?.number !== number) this.#buckets.push({ number, samples });
    else
      this.#buckets[this.#buckets.length - 1] = { number, samples: extremes([...last.samples, ...samples]) };
  }

  #widen(): void {
    const narrow = this.#buckets;
    this.#widthMs *= 2;
    this.#buckets = [];
    for (const { number, samples } of narrow) this.#put(Math.floor(number / 2), samples);
  }
}

function extremes(samples: readonly Sample[]): readonly Sample[] {
  let low: Sample | null = null;
  let high: Sample | null = null;
  let gap: Sample | null = null;
  for (const sample of samples) {
    const [, value] = sample;
    if (value === null) gap ??= sample;
    else {
      if (low === null || value < (low[1] ?? value)) low = sample;
      if (high === null || value > (high[1] ?? value)) high = sample;
    }
  }
  return samples.filter((sample) => sample === low || sample === high || sample === gap);
}
