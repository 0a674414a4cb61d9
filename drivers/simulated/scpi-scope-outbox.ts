import type { Clock } from '../clock.js';
import type { ByteEnd } from './device.js';
import type { RandomSource } from './random.js';

/** What can be wrong with how a simulated scope answers. */
export interface ScopeTrouble {
  /** From a message to its answer, ms. */
  readonly latencyMs: number;
  /** Answers come in pieces of a few bytes to a few hundred. */
  readonly tearing: boolean;
  /** One answer in so many is cut off, and its rest never comes; 0 for none. */
  readonly cutsOneIn: number;
  /** Takes everything and answers nothing. */
  readonly stuck: boolean;
}

export const NO_TROUBLE: ScopeTrouble = { latencyMs: 5, tearing: false, cutsOneIn: 0, stuck: false };

const PIECE_BYTES = 512;
const MOST_TORN_BYTES = 300;

/** Sends answers one after another at the rate of the cable. */
export class ScopeOutbox {
  readonly #end: ByteEnd;
  readonly #clock: Clock;
  readonly #random: RandomSource;
  readonly #bytesPerMs: number;
  #cancel: (() => void) | null = null;
  #left: Uint8Array = new Uint8Array();
  #done: () => void = () => undefined;

  constructor(end: ByteEnd, clock: Clock, random: RandomSource, bytesPerSecond: number) {
    this.#end = end;
    this.#clock = clock;
    this.#random = random;
    this.#bytesPerMs = bytesPerSecond / 1000;
  }

  /** Sends one answer; `done` is called when the last byte is out. One at a time. */
  send(answer: Uint8Array, trouble: ScopeTrouble, done: () => void): void {
    const isCut = trouble.cutsOneIn > 0 && this.#random.uniform() < 1 / trouble.cutsOneIn;
    this.#left = isCut ? answer.subarray(0, Math.floor(this.#random.uniform() * answer.length)) : answer;
    this.#done = done;
    this.#cancel = this.#clock.after(trouble.latencyMs, () => this.#sendPiece(trouble));
  }

  stop(): void {
    this.#cancel?.();
    this.#cancel = null;
  }

  #sendPiece(trouble: ScopeTrouble): void {
    this.#cancel = null;
    const torn = 1 + Math.floor(this.#random.uniform() * MOST_TORN_BYTES);
    const piece = this.#left.subarray(0, trouble.tearing ? torn : PIECE_BYTES);
    this.#left = this.#left.subarray(piece.length);
    if (piece.length > 0) this.#end.send(piece);
    if (this.#left.length === 0) this.#done();
    else this.#cancel = this.#clock.after(piece.length / this.#bytesPerMs, () => this.#sendPiece(trouble));
  }
}
