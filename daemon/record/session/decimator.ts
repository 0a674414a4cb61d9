/** What a stretch of time held of one quantity. */
export interface Bucket {
  readonly fromMs: number;
  readonly toMs: number;
  readonly low: number;
  readonly high: number;
  readonly mean: number;
  readonly count: number;
}

interface Sum {
  low: number;
  high: number;
  sum: number;
  count: number;
}

const FIRST_WIDTH_MS = 250;

/**
 * Keeps lowest, highest and mean of equal stretches of time in bounded memory, however long it goes on: when there are
 * too many stretches, neighbours are joined. No extreme is ever lost.
 */
export class Decimator {
  readonly #mostBuckets: number;
  #widthMs = FIRST_WIDTH_MS;
  #buckets = new Map<number, Sum>();
  /** Of the last reading: most readings go where the one before went. */
  #place = NaN;
  #bucket: Sum | null = null;

  constructor(mostBuckets: number) {
    this.#mostBuckets = mostBuckets;
  }

  add(atMs: number, value: number): void {
    const place = Math.floor(atMs / this.#widthMs);
    const bucket = place === this.#place ? this.#bucket : this.#buckets.get(place);
    if (bucket == null) {
      this.#place = NaN;
      this.#buckets.set(place, { low: value, high: value, sum: value, count: 1 });
      while (this.#buckets.size > this.#mostBuckets) this.#joinNeighbours();
      return;
    }
    this.#place = place;
    this.#bucket = bucket;
    if (value < bucket.low) bucket.low = value;
    if (value > bucket.high) bucket.high = value;
    bucket.sum += value;
    bucket.count += 1;
  }

  /** In order of time. Stretches without a value are left out. */
  buckets(): Bucket[] {
    return [...this.#buckets]
      .sort(([a], [b]) => a - b)
      .map(([place, { low, high, sum, count }]) => ({
        fromMs: place * this.#widthMs,
        toMs: (place + 1) * this.#widthMs,
        low,
        high,
        mean: sum / count,
        count,
      }));
  }

  #joinNeighbours(): void {
    const joined = new Map<number, Sum>();
    for (const [place, bucket] of this.#buckets) {
      const other = joined.get(Math.floor(place / 2));
      if (other === undefined) {
        joined.set(Math.floor(place / 2), bucket);
        continue;
      }
      other.low = Math.min(other.low, bucket.low);
      other.high = Math.max(other.high, bucket.high);
      other.sum += bucket.sum;
      other.count += bucket.count;
    }
    this.#buckets = joined;
    this.#widthMs *= 2;
  }
}
