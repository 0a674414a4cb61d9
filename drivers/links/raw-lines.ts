import { printable } from '../printable.js';

/** Lines that are kept of one instrument. */
export const MOST_LINES = 50;
const LONGEST_LINE_BYTES = 200;
const MOST_HEX_BYTES = 32;
/** Of a longer chunk, a capture's, only the end is looked at, so that watching isn't held up. */
const MOST_SEEN_BYTES = 4096;
const LINE_FEED = 0x0a;
const RETURN = 0x0d;
const TAB = 0x09;
const FIRST_PRINTABLE = 0x20;

/** One line as it came, made printable; bytes that are no text as hex. */
export interface RawLine {
  /** Counted from 0 without a gap, so that a reader knows what is new. */
  readonly number: number;
  /** When its last byte came, ms of the clock that was given. */
  readonly atMs: number;
  readonly text: string;
}

/** The newest lines of a stream of bytes, at most {@link MOST_LINES}. Takes any bytes, holds a bounded number of them. */
export class RawLines {
  readonly #lines: RawLine[] = [];
  readonly #partial = new Uint8Array(LONGEST_LINE_BYTES);
  #length = 0;
  #count = 0;

  get lines(): readonly RawLine[] {
    return this.#lines;
  }

  push(chunk: Uint8Array, atMs: number): void {
    let hasControls = false;
    for (const byte of chunk.subarray(-MOST_SEEN_BYTES)) {
      if (byte === LINE_FEED || byte === RETURN) this.#end(atMs);
      else {
        hasControls ||= byte < FIRST_PRINTABLE && byte !== TAB;
        this.#take(byte, atMs);
      }
    }
    // Frames have no line ends: one that came whole is shown at once.
    if (hasControls) this.#end(atMs);
  }

  /** A new connection begins: a half line belongs to nobody. */
  forgetPartial(): void {
    this.#length = 0;
  }

  #take(byte: number, atMs: number): void {
    if (this.#length === LONGEST_LINE_BYTES) this.#end(atMs);
    this.#partial[this.#length] = byte;
    this.#length += 1;
  }

  #end(atMs: number): void {
    if (this.#length === 0) return;
    const text = shown(this.#partial.subarray(0, this.#length));
    this.#length = 0;
    this.#lines.push({ number: this.#count, atMs, text });
    this.#count += 1;
    if (this.#lines.length > MOST_LINES) this.#lines.shift();
  }
}

function shown(bytes: Uint8Array): string {
  const isText = bytes.every((byte) => byte >= FIRST_PRINTABLE || byte === TAB);
  if (isText) return printable(new TextDecoder().decode(bytes));
  const hex = Array.from(bytes.subarray(0, MOST_HEX_BYTES), (byte) => byte.toString(16).padStart(2, '0'));
  return `hex ${hex.join(' ')}${bytes.length > MOST_HEX_BYTES ? ' …' : ''}`;
}
