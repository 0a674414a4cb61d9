/**
 * Bytes of one frame come one right after the other. A longer pause means that some are missing: then bytes with the
 * right numbers could be those of two frames. At 2400 baud a byte takes 4 ms; adapters hand them on in lumps.
 */
const LONGEST_PAUSE_MS = 100;

interface FrameListener {
  /** A whole frame, the high halves left out. Valid until the next byte is pushed. */
  readonly onFrame: (lowHalves: Uint8Array, atMs: number) => void;
  /** Bytes were dropped. */
  readonly onTorn: (why: string) => void;
}

/** Finds frames among bytes that carry their own number in the high half. Make a new one for every connection. */
export class FrameReader {
  readonly #listener: FrameListener;
  readonly #frame: Uint8Array;
  #due = 1;
  #skipped = 0;
  #lastAtMs = 0;

  constructor(bytes: number, listener: FrameListener) {
    this.#listener = listener;
    this.#frame = new Uint8Array(bytes);
  }

  push(chunk: Uint8Array, atMs: number): void {
    if (this.#due > 1 && atMs - this.#lastAtMs > LONGEST_PAUSE_MS) {
      this.#tear(`a pause of more than ${LONGEST_PAUSE_MS} ms before byte ${this.#due} of a frame`);
    }
    for (const byte of chunk) this.#take(byte >>> 4, byte & 0xf, atMs);
    this.#lastAtMs = atMs;
  }

  #take(number: number, lowHalf: number, atMs: number): void {
    if (number !== this.#due && this.#due > 1) {
      this.#tear(`byte ${number} where byte ${this.#due} of a frame was due`);
    }
    if (number !== this.#due) return this.#skip();
    this.#frame[number - 1] = lowHalf;
    this.#due = number + 1;
    if (number < this.#frame.length) return;
    this.#due = 1;
    this.#skipped = 0;
    this.#listener.onFrame(this.#frame, atMs);
  }

  #tear(why: string): void {
    this.#due = 1;
    this.#listener.onTorn(why);
  }

  /** The rest of a frame that began before the link opened, or was torn, is no news; more than that is. */
  #skip(): void {
    this.#skipped += 1;
    if (this.#skipped === 2 * this.#frame.length) {
      this.#listener.onTorn('bytes that make no frame; check the baud rate, and that this is such a meter');
    }
  }
}
