/** The recent readings of one test point: times ascending, null where there was no number. */
export interface Columns {
  readonly atMs: readonly number[];
  readonly value: readonly (number | null)[];
}

/** Session time that is kept: the longest chart window and a little more. */
const KEPT_MS = 16 * 60_000;
/** Readings that are kept at most, whatever their rate. */
const MOST_READINGS = 12_000;

/** A bounded store of one point's readings. Readings that come out of order are left out. */
export class Track {
  #atMs: number[] = [];
  #value: (number | null)[] = [];

  get columns(): Columns {
    return { atMs: this.#atMs, value: this.#value };
  }

  append(atMs: number, value: number | null): void {
    const last = this.#atMs.at(-1) ?? -Infinity;
    if (!Number.isFinite(atMs) || atMs < last) return;
    if (atMs === last) {
      this.#value[this.#value.length - 1] = finiteOrNull(value);
      return;
    }
    this.#atMs.push(atMs);
    this.#value.push(finiteOrNull(value));
    if (this.#atMs.length > MOST_READINGS * 1.25) this.#trim(atMs);
  }

  /** Takes over what the daemon remembers, keeping older readings that only this page still has. */
  refill(columns: Columns): void {
    const first = columns.atMs[0] ?? Infinity;
    const older = this.#atMs.findLastIndex((atMs) => atMs < first) + 1;
    this.#atMs = this.#atMs.slice(0, older);
    this.#value = this.#value.slice(0, older);
    columns.atMs.forEach((atMs, index) => this.append(atMs, columns.value[index] ?? null));
  }

  #trim(nowMs: number): void {
    const expired = this.#atMs.findIndex((atMs) => atMs >= nowMs - KEPT_MS);
    const from = Math.max(expired, this.#atMs.length - MOST_READINGS);
    this.#atMs = this.#atMs.slice(from);
    this.#value = this.#value.slice(from);
  }
}

function finiteOrNull(value: number | null): number | null {
  return value !== null && Number.isFinite(value) ? value : null;
}
