import type { Wall } from '../../daemon/time/wall.js';
import type { FastClock } from './fast-clock.js';

/** The computer's own time as the session sees it: a clock that only goes on, and a date that somebody may set. */
export class Computer {
  readonly wall: Wall;
  readonly #clock: FastClock;
  readonly #startedMs: number;
  #setMs = 0;

  constructor(clock: FastClock, startedAt: Date) {
    this.#clock = clock;
    this.#startedMs = startedAt.getTime();
    this.wall = clock;
  }

  readonly dateMs = (): number => this.#startedMs + this.#clock.nowMs() + this.#setMs;

  setDate(byMs: number): void {
    this.#setMs += byMs;
  }

  /** Nothing runs for so long. */
  sleep(ms: number, itsClock: 'stands-still' | 'counts-on'): void {
    if (itsClock === 'stands-still') this.#setMs += ms;
    else this.#clock.jump(ms);
  }
}
