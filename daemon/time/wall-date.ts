import type { Wall } from './wall.js';

/** A smaller difference is how clocks are kept right every day. */
const JUMP_MS = 2000;

/** Notices when the computer's date no longer fits the time that has passed: it was set, or the computer slept. */
export class WallDate {
  readonly #wall: Wall;
  readonly #dateMs: () => number;
  /** The date minus the time passed, as long as nobody sets it. */
  #offsetMs: number;

  /** @param dateMs the computer's date, ms since 1970 */
  constructor(wall: Wall, dateMs: () => number) {
    this.#wall = wall;
    this.#dateMs = dateMs;
    this.#offsetMs = dateMs() - wall.nowMs();
  }

  /** What it would show now and what it shows, when it has jumped since the last call; else null. */
  jump(): { readonly was: Date; readonly is: Date } | null {
    const isMs = this.#dateMs();
    const wasMs = this.#offsetMs + this.#wall.nowMs();
    if (Math.abs(isMs - wasMs) < JUMP_MS) return null;
    this.#offsetMs += isMs - wasMs;
    return { was: new Date(wasMs), is: new Date(isMs) };
  }
}
