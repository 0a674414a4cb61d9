import { WallDate } from './wall-date.js';
import type { Wall } from './wall.js';

/** Nothing that works takes so long between two looks: the computer slept, or was as good as asleep. */
const SLEPT_MS = 10_000;

/** The computer's date jumped, or nothing ran for a while. */
export interface ClockJump {
  /** ISO 8601: what the clock would have shown, and what it showed. */
  readonly was: string;
  readonly is: string;
  /** So long perhaps nobody watched, ms. */
  readonly unwatchedMs: number;
}

/**
 * Notices that the clock was set or the computer slept, when it is asked often. A clock that counts on during a sleep
 * shows it as a gap between two looks, one that stands still as a date that has jumped forward; somebody who sets the
 * date forward can't be told from that.
 */
export class ClockJumps {
  readonly #wall: Wall;
  readonly #date: WallDate;
  readonly #dateMs: () => number;
  #lookedAtMs: number;

  /** @param dateMs the computer's date, ms since 1970 */
  constructor(wall: Wall, dateMs: () => number) {
    this.#wall = wall;
    this.#dateMs = dateMs;
    this.#date = new WallDate(wall, dateMs);
    this.#lookedAtMs = wall.nowMs();
  }

  /** What happened since the last call; null: nothing. */
  next(): ClockJump | null {
    const gapMs = this.#wall.nowMs() - this.#lookedAtMs;
    this.#lookedAtMs += gapMs;
    const jump = this.#date.jump();
    const sleptMs = gapMs > SLEPT_MS ? gapMs : 0;
    if (jump === null && sleptMs === 0) return null;
    const is = jump?.is ?? new Date(this.#dateMs());
    const was = jump?.was ?? new Date(is.getTime() - sleptMs);
    const forwardMs = Math.max(0, is.getTime() - was.getTime());
    return {
      was: was.toISOString(),
      is: is.toISOString(),
      unwatchedMs: Math.round(Math.max(sleptMs, jump === null ? 0 : forwardMs)),
    };
  }
}
