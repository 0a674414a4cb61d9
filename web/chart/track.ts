import { thinned } from './thin.js';

/** The readings of one test point: times ascending; null or not a number where there was no number. */
export interface Columns {
  readonly atMs: ArrayLike<number>;
  readonly value: ArrayLike<number | null>;
}

/** A little more than an hour at ten readings a second. When it is full, the older half is thinned. */
export const MOST_READINGS = 48_000;

/** The number at a place; null for a gap. */
export function numberAt(value: Columns['value'], index: number): number | null {
  const found = value[index];
  return found === undefined || found === null || !Number.isFinite(found) ? null : found;
}

/**
 * A bounded store of one point's readings, back to the session's start: what is old is kept coarser, its extremes
 * among it. Readings that come out of order are left out.
 */
export class Track {
  #atMs = new Float64Array(1024);
  #value = new Float64Array(1024);
  #count = 0;

  get columns(): Columns {
    return { atMs: this.#atMs.subarray(0, this.#count), value: this.#value.subarray(0, this.#count) };
  }

  append(atMs: number, value: number | null): void {
    const last = this.#count === 0 ? -Infinity : this.#atMs[this.#count - 1]!;
    if (!Number.isFinite(atMs) || atMs < last) return;
    if (atMs > last) this.#count += 1;
    if (this.#count > this.#atMs.length) this.#grow();
    this.#atMs[this.#count - 1] = atMs;
    this.#value[this.#count - 1] = value ?? NaN;
    if (this.#count >= MOST_READINGS) this.#thin();
  }

  /** Takes over what the daemon remembers, keeping what only this page still has. */
  refill(columns: Columns): void {
    const own = { atMs: this.#atMs.slice(0, this.#count), value: this.#value.slice(0, this.#count) };
    this.#count = 0;
    let at = 0;
    for (let index = 0; index < columns.atMs.length; index += 1) {
      const told = columns.atMs[index]!;
      for (; at < own.atMs.length && own.atMs[at]! < told; at += 1)
        this.append(own.atMs[at]!, own.value[at]!);
      this.append(told, columns.value[index] ?? null);
    }
    for (; at < own.atMs.length; at += 1) this.append(own.atMs[at]!, own.value[at]!);
  }

  #grow(): void {
    this.#atMs = longer(this.#atMs);
    this.#value = longer(this.#value);
  }

  #thin(): void {
    const half = this.#count >> 1;
    const old = thinned({ atMs: this.#atMs.subarray(0, half), value: this.#value.subarray(0, half) }, 8);
    const young = this.#count - half;
    this.#atMs.copyWithin(old.atMs.length, half, this.#count);
    this.#value.copyWithin(old.atMs.length, half, this.#count);
    this.#atMs.set(old.atMs);
    this.#value.set(old.value);
    this.#count = old.atMs.length + young;
  }
}

function longer(values: Float64Array): Float64Array<ArrayBuffer> {
  const next = new Float64Array(values.length * 2);
  next.set(values);
  return next;
}
