import type { PlaySpeed } from '../elements/time-bar.js';

const STEP_MS = 100;

/** Moves a moment on, some times faster than it was. */
export class MomentPlayer {
  readonly #onMove: (byMs: number) => void;
  #timer: number | null = null;
  #lastMs = 0;

  /** @param onMove is told by how much session time to go on */
  constructor(onMove: (byMs: number) => void) {
    this.#onMove = onMove;
  }

  get playing(): boolean {
    return this.#timer !== null;
  }

  play(speed: PlaySpeed): void {
    this.pause();
    this.#lastMs = performance.now();
    this.#timer = window.setInterval(() => {
      const nowMs = performance.now();
      const byMs = (nowMs - this.#lastMs) * speed;
      this.#lastMs = nowMs;
      this.#onMove(byMs);
    }, STEP_MS);
  }

  pause(): void {
    if (this.#timer !== null) window.clearInterval(this.#timer);
    this.#timer = null;
  }
}
