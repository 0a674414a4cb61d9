import { createHash } from 'node:crypto';

const NEWLINE = 10;
/** Longer than any seal: a last line of this length can be hashed, since it isn't one. */
const LONGEST_SEAL_BYTES = 4096;

/** SHA-256 of everything in a file but its last line, worked out while the bytes stream by. */
export class BeforeLastLine {
  readonly #hash = createHash('sha256');
  /** The last line so far, with its newline if that has come. */
  #held: Buffer = Buffer.alloc(0);

  push(chunk: Uint8Array): void {
    if (chunk.length === 0) return;
    const bytes = Buffer.from(chunk.buffer, chunk.byteOffset, chunk.length);
    const newline = bytes.length < 2 ? -1 : bytes.lastIndexOf(NEWLINE, bytes.length - 2);
    if (newline !== -1) {
      this.#hash.update(this.#held).update(bytes.subarray(0, newline + 1));
      this.#held = Buffer.from(bytes.subarray(newline + 1));
    } else if (this.#held.at(-1) === NEWLINE) {
      this.#hash.update(this.#held);
      this.#held = Buffer.from(bytes);
    } else {
      this.#held = Buffer.concat([this.#held, bytes]);
    }
    if (this.#held.length > LONGEST_SEAL_BYTES) {
      this.#hash.update(this.#held);
      this.#held = Buffer.alloc(0);
    }
  }

  /** 64 hexadecimal digits, as `head -n -1 FILE | sha256sum` prints them. Can be asked at any time. */
  digest(): string {
    return this.#hash.copy().digest('hex');
  }
}
