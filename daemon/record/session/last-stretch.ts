/** How a quantity stood at the end: over its last stretch of time. */
export interface Settled {
  readonly mean: number;
  readonly low: number;
  readonly high: number;
  readonly count: number;
  readonly fromMs: number;
  readonly toMs: number;
  /** Slope of the least-squares line, per minute; null with fewer than three values. */
  readonly perMinute: number | null;
}

const MOST_VALUES = 4000;
/** Before volts are seen to be gone, they fall for a while: that is no longer how it stood. */
const FALLING_MS = 5000;

/** Keeps the newest values of a stretch of time in bounded memory. */
export class LastStretch {
  readonly #lengthMs: number;
  #values: (readonly [atMs: number, value: number])[] = [];
  /** How it stood when the supply was last switched off. */
  #before: Settled | null = null;

  constructor(lengthMs: number) {
    this.#lengthMs = lengthMs;
  }

  add(atMs: number, value: number): void {
    this.#values.push([atMs, value]);
    if (this.#values.length > MOST_VALUES) this.#forget();
  }

  /** The supply was found to be off: what was measured while the volts fell doesn't count. */
  switchedOff(atMs: number): void {
    this.#values = this.#values.filter(([measuredAtMs]) => measuredAtMs < atMs - FALLING_MS);
    this.#before = this.settled();
    this.#values = [];
  }

  /** Of the time since the supply came on, or, when that is too short, of the time before. */
  settled(): Settled | null {
    this.#forget();
    const first = this.#values[0];
    const last = this.#values.at(-1);
    if (first === undefined || last === undefined) return this.#before;
    const values = this.#values.map(([, value]) => value);
    return {
      mean: values.reduce((sum, value) => sum + value, 0) / values.length,
      low: Math.min(...values),
      high: Math.max(...values),
      count: values.length,
      fromMs: first[0],
      toMs: last[0],
      perMinute: slopePerMinute(this.#values),
    };
  }

  #forget(): void {
    const endMs = this.#values.at(-1)?.[0] ?? 0;
    this.#values = this.#values.filter(([atMs]) => atMs > endMs - this.#lengthMs).slice(-MOST_VALUES / 2);
  }
}

/** Ordinary least squares, any textbook. */
function slopePerMinute(values: readonly (readonly [number, number])[]): number | null {
  if (values.length < 3) return null;
  const meanMs = values.reduce((sum, [atMs]) => sum + atMs, 0) / values.length;
  const mean = values.reduce((sum, [, value]) => sum + value, 0) / values.length;
  let above = 0;
  let below = 0;
  for (const [atMs, value] of values) {
    above += (atMs - meanMs) * (value - mean);
    below += (atMs - meanMs) ** 2;
  }
  return below === 0 ? null : (above / below) * 60_000;
}
