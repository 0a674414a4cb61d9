import { isUtf8 } from 'node:buffer';

/** The longest line that is read; a header with its predictions is far shorter. */
export const LONGEST_LINE_BYTES = 4 * 1024 * 1024;
const NEWLINE = 10;

/** One line of a file, counted from 1, or why it has no text. */
export interface FileLine {
  readonly line: number;
  /** Without its newline; null when there is a `fault`. */
  readonly text: string | null;
  readonly fault: 'too-long' | 'not-text' | null;
  /** False for a last line without a newline. */
  readonly ended: boolean;
}

/** Cuts chunks of bytes into lines of UTF-8 text, in bounded memory. */
export class LineCutter {
  readonly #longestBytes: number;
  #held: Buffer[] = [];
  #heldBytes = 0;
  #tooLong = false;
  #line: number;

  /** @param options `line`: the number of the first line that comes. */
  constructor({ line = 1, longestBytes = LONGEST_LINE_BYTES } = {}) {
    this.#longestBytes = longestBytes;
    this.#line = line - 1;
  }

  /** The number of the line that comes next or has begun. */
  get line(): number {
    return this.#line + 1;
  }

  /** The lines that end in this chunk. */
  push(chunk: Buffer): FileLine[] {
    const last = chunk.lastIndexOf(NEWLINE);
    if (last === -1) {
      this.#hold(chunk);
      return [];
    }
    const first = chunk.indexOf(NEWLINE);
    this.#hold(chunk.subarray(0, first));
    const lines = [this.#release(true)];
    if (last > first) this.#cutWhole(chunk.subarray(first + 1, last), lines);
    this.#hold(chunk.subarray(last + 1));
    return lines;
  }

  /** What is left when the file ends: a line without its newline, or nothing. */
  end(): FileLine | null {
    return this.#heldBytes === 0 && !this.#tooLong ? null : this.#release(false);
  }

  /** Lines that lie whole within one chunk: decoded together, which is several times faster than one by one. */
  #cutWhole(region: Buffer, into: FileLine[]): void {
    if (isUtf8(region) && region.length <= this.#longestBytes) {
      for (const text of region.toString('utf8').split('\n')) {
        into.push({ line: (this.#line += 1), text, fault: null, ended: true });
      }
      return;
    }
    let start = 0;
    while (start <= region.length) {
      const found = region.indexOf(NEWLINE, start);
      const stop = found === -1 ? region.length : found;
      this.#hold(region.subarray(start, stop));
      into.push(this.#release(true));
      start = stop + 1;
    }
  }

  #hold(piece: Buffer): void {
    if (this.#tooLong || piece.length === 0) return;
    if (this.#heldBytes + piece.length > this.#longestBytes) {
      this.#tooLong = true;
      this.#held = [];
      this.#heldBytes = 0;
      return;
    }
    this.#held.push(piece);
    this.#heldBytes += piece.length;
  }

  #release(ended: boolean): FileLine {
    const bytes = Buffer.concat(this.#held);
    const fault = this.#tooLong ? 'too-long' : isUtf8(bytes) ? null : 'not-text';
    this.#held = [];
    this.#heldBytes = 0;
    this.#tooLong = false;
    return { line: (this.#line += 1), text: fault === null ? bytes.toString('utf8') : null, fault, ended };
  }
}
