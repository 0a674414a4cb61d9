/** Delays of one kind, counted into quantiles. */
export class Latencies {
  readonly #ms: number[] = [];

  add(ms: number): void {
    this.#ms.push(ms);
  }

  /** `median 3, 99 % 40, longest 52 ms, of 12`. */
  words(): string {
    const sorted = [...this.#ms].sort((a, b) => a - b);
    const at = (share: number): number =>
      Math.round(10 * (sorted[Math.floor(share * (sorted.length - 1))] ?? NaN)) / 10;
    if (sorted.length === 0) return 'none';
    return `median ${at(0.5)}, 99 % ${at(0.99)}, longest ${at(1)} ms, of ${sorted.length}`;
  }
}
