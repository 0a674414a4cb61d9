import type { Clock } from '../clock.js';
import { LONGEST_FRAME_BYTES } from './frames.js';

/** What a script waits for: a time, or the next bytes if they come before it. */
export interface Wait {
  readonly untilMs: number;
  readonly orBytes: boolean;
}

/** A piece of a talk, written in the order in which it happens. */
export type Talk<Result> = Generator<Wait, Result, undefined>;

/** Runs a script over one connection: keeps the latest bytes for it and wakes it when bytes or its time come. */
export class BusTalk {
  readonly #clock: Clock;
  readonly #kept = new Uint8Array(LONGEST_FRAME_BYTES);
  #keptLength = 0;
  #lastByteMs: number;
  #script: Talk<void> | null = null;
  #wait: Wait | null = null;
  #running = false;
  #cameMeanwhile = false;
  #cancelTimer: () => void = () => undefined;

  constructor(clock: Clock) {
    this.#clock = clock;
    this.#lastByteMs = clock.nowMs();
  }

  /** What has come since {@link forget}, the latest {@link LONGEST_FRAME_BYTES} of it. Valid until more comes. */
  get heard(): Uint8Array {
    return this.#kept.subarray(0, this.#keptLength);
  }

  /** When the last byte came; when the connection opened before any has. */
  get lastByteMs(): number {
    return this.#lastByteMs;
  }

  forget(): void {
    this.#keptLength = 0;
  }

  push(chunk: Uint8Array, atMs: number): void {
    if (chunk.length === 0) return;
    this.#lastByteMs = atMs;
    this.#keep(chunk.subarray(-LONGEST_FRAME_BYTES));
    this.#cameMeanwhile = true;
    if (!this.#running && this.#wait?.orBytes === true) this.#advance();
  }

  run(script: Talk<void>): void {
    this.#script = script;
    this.#advance();
  }

  /** Abandons the script. */
  end(): void {
    this.#cancelTimer();
    this.#script = null;
    this.#wait = null;
  }

  #keep(latest: Uint8Array): void {
    const excess = Math.max(0, this.#keptLength + latest.length - LONGEST_FRAME_BYTES);
    this.#kept.copyWithin(0, excess, this.#keptLength);
    this.#keptLength -= excess;
    this.#kept.set(latest, this.#keptLength);
    this.#keptLength += latest.length;
  }

  /** Goes on until the script waits for what isn't there yet. A link may answer from within the script's own write. */
  #advance(): void {
    this.#cancelTimer();
    for (let script = this.#script; script !== null; script = this.#script) {
      this.#wait = null;
      this.#cameMeanwhile = false;
      this.#running = true;
      const step = script.next();
      this.#running = false;
      if (this.#script !== script || step.done === true) return;
      if (step.value.orBytes && this.#cameMeanwhile) continue;
      this.#begin(step.value);
      return;
    }
  }

  #begin(wait: Wait): void {
    this.#wait = wait;
    const delayMs = Math.max(0, wait.untilMs - this.#clock.nowMs());
    this.#cancelTimer = this.#clock.after(delayMs, () => this.#advance());
  }
}
