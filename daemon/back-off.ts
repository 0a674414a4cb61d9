import type { Wall } from './time/wall.js';

const FIRST_MS = 5000;
const LONGEST_MS = 300_000;

/** When something that failed is tried again: twice as late each time, until it works. */
export class BackOff {
  readonly #wall: Pick<Wall, 'after'>;
  #delayMs = FIRST_MS;
  #cancel: () => void = () => undefined;

  constructor(wall: Pick<Wall, 'after'>) {
    this.#wall = wall;
  }

  /** Calls `again` when it is time; in place of what was to be called before. */
  later(again: () => void): void {
    this.#cancel();
    this.#cancel = this.#wall.after(this.#delayMs, again);
    this.#delayMs = Math.min(LONGEST_MS, 2 * this.#delayMs);
  }

  /** It works: the next failure is the first one again. */
  reset(): void {
    this.#delayMs = FIRST_MS;
  }

  stop(): void {
    this.#cancel();
  }
}
