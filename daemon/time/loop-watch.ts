import type { Wall } from './wall.js';

const LOOK_EVERY_MS = 50;
/** Longer than garbage collection takes, and as long as a tick. */
const STALLED_MS = 250;

/**
 * Notices when nothing ran for a while: something computed for too long, the machine was too busy, or the program was
 * held. Every stall over 250 ms is told once, with its length up to one look too long.
 */
export class LoopWatch {
  readonly #wall: Wall;
  readonly #onStall: (stalledMs: number) => void;
  #lookedAtMs = 0;
  #cancel: () => void = () => undefined;

  constructor(wall: Wall, onStall: (stalledMs: number) => void) {
    this.#wall = wall;
    this.#onStall = onStall;
  }

  start(): void {
    this.#lookedAtMs = this.#wall.nowMs();
    this.#wait();
  }

  /** Also to be called before anything that must not be done after a stall that nobody has noticed. */
  look(): void {
    const nowMs = this.#wall.nowMs();
    const gapMs = nowMs - this.#lookedAtMs;
    this.#lookedAtMs = nowMs;
    if (gapMs > STALLED_MS) this.#onStall(gapMs);
  }

  stop(): void {
    this.#cancel();
  }

  #wait(): void {
    this.#cancel = this.#wall.after(LOOK_EVERY_MS, () => {
      this.#wait();
      this.look();
    });
  }
}
