import { isUtf8 } from 'node:buffer';
import type { FaultCode } from '../driver.js';
import { utf8FromLatin1Signs } from './latin1-signs.js';

/** The longest line that is let through, its end not counted (nor one blank before that, which may have been a CR). */
export const LONGEST_LINE_BYTES = 4096;

const NUL = 0;
const LINE_FEED = 10;
const CARRIAGE_RETURN = 13;
const BLANK = 32;
const FIRST_HIGH_BYTE = 128;
/** CR + 1, and the highest bit, in each of four bytes. */
const FIRST_PLAIN_BYTES = 0x0e0e0e0e;
const HIGHEST_BITS = 0x80808080;

export interface GuardListener {
  /** One or more whole lines, each with its line feed. The bytes are only valid during the call. */
  onLines(lines: Uint8Array): void;
  /** A line was dropped. Called as soon as it is known to be bad, once a line. */
  onDropped(code: Extract<FaultCode, 'line-too-long' | 'not-text'>, detail: string): void;
}

/** What becomes of the line under way: `first` is good but unwanted, since it may lack its beginning. */
type Fate = 'keep' | 'first' | 'drop';

export interface GuardOptions {
  /** Everything before the first line end is dropped without a word. */
  readonly skipFirst: boolean;
  /** Lines whose only bytes beyond ASCII are signs of units in ISO/IEC 8859-1 are let through too, as UTF-8. */
  readonly latin1Signs?: boolean;
}

/**
 * Lets through whole lines of text only, so that a parser behind it never holds more than one chunk. A line that
 * is too long, has a NUL or isn't UTF-8 is dropped whole: a line with a piece cut out could read as another
 * number. A line ends with LF, CRLF or a lone CR. It changes the chunk given: a lone CR becomes LF, the CR of a CRLF
 * a blank at the line's end, since cutting it off every line costs more than matching the line does.
 */
export class LineGuard {
  readonly #listener: GuardListener;
  /** Holds the beginning of a line whose end hasn't come: at most the longest line, its CR and its LF. */
  readonly #held = Buffer.allocUnsafeSlow(LONGEST_LINE_BYTES + 2);
  #heldLength = 0;
  #droppedLength = 0;
  #fate: Fate;
  #swallowLineFeed = false;
  readonly #latin1Signs: boolean;

  constructor(listener: GuardListener, { skipFirst, latin1Signs = false }: GuardOptions) {
    this.#listener = listener;
    this.#latin1Signs = latin1Signs;
    this.#fate = skipFirst ? 'first' : 'keep';
  }

  /** Whether a line has begun that hasn't ended. */
  get midLine(): boolean {
    return this.#heldLength > 0 || this.#fate === 'drop';
  }

  /** One pass over the bytes, four at a time; only the rare ones leave the first lines of the loop. */
  push(chunk: Uint8Array): void {
    const length = chunk.length;
    const view = new DataView(chunk.buffer, chunk.byteOffset, length);
    const lastWord = length - 4;
    let start = this.#skipSwallowed(chunk);
    let lineStart = start;
    let hasHigh = false;
    for (let i = start; i < length; i += 1) {
      while (i <= lastWord && isPlainWord(view.getInt32(i))) i += 4;
      if (i === length) break;
      const byte = chunk[i] as number;
      if (byte > CARRIAGE_RETURN && byte < FIRST_HIGH_BYTE) continue;
      if (byte >= FIRST_HIGH_BYTE) hasHigh = true;
      else if (byte === NUL) {
        this.#pass(chunk.subarray(start, lineStart), hasHigh);
        this.#condemn('not-text', 'a line with a NUL byte; check the baud rate and the cable');
        start = lineStart;
      } else if (byte === LINE_FEED || (byte === CARRIAGE_RETURN && this.#endsLine(chunk, i))) {
        if (!this.#isPlainLine(chunk, lineStart, i)) {
          this.#pass(chunk.subarray(start, lineStart), hasHigh);
          this.#finishLine(chunk.subarray(lineStart, i + 1));
          start = i + 1;
          hasHigh = false;
        }
        lineStart = i + 1;
      }
    }
    this.#pass(chunk.subarray(start, lineStart), hasHigh);
    this.#keepTail(chunk.subarray(lineStart));
  }

  /** Leaves out the LF of a CRLF that was cut between two chunks. */
  #skipSwallowed(chunk: Uint8Array): number {
    const swallow = this.#swallowLineFeed && chunk[0] === LINE_FEED;
    if (chunk.length > 0) this.#swallowLineFeed = false;
    return swallow ? 1 : 0;
  }

  /** A CR before an LF becomes a blank; any other CR becomes an LF. */
  #endsLine(chunk: Uint8Array, at: number): boolean {
    const lone = chunk[at + 1] !== LINE_FEED;
    if (at + 1 === chunk.length) this.#swallowLineFeed = true;
    chunk[at] = lone ? LINE_FEED : BLANK;
    return lone;
  }

  /** Whether the line lies whole in this chunk and is wanted, so that it can go out together with its neighbours. */
  #isPlainLine(chunk: Uint8Array, lineStart: number, end: number): boolean {
    return this.#fate === 'keep' && this.#heldLength === 0 && !tooLong(end - lineStart, chunk[end - 1]);
  }

  /** Ends a line that was held, is unwanted or is too long. `rest` ends with its LF. */
  #finishLine(rest: Uint8Array): void {
    const length = this.#heldLength + rest.length - 1;
    if (tooLong(length, rest[rest.length - 2])) this.#condemnLong();
    if (this.#fate === 'keep') {
      this.#held.set(rest, this.#heldLength);
      this.#pass(this.#held.subarray(0, length + 1), true);
    }
    this.#heldLength = 0;
    this.#droppedLength = 0;
    this.#fate = 'keep';
  }

  #keepTail(tail: Uint8Array): void {
    if (this.#fate === 'keep') {
      if (this.#heldLength + tail.length <= LONGEST_LINE_BYTES) {
        this.#held.set(tail, this.#heldLength);
        this.#heldLength += tail.length;
      } else this.#condemnLong();
    } else if (this.#fate === 'first') {
      this.#droppedLength += tail.length;
      if (this.#droppedLength > LONGEST_LINE_BYTES) this.#condemnLong();
    }
  }

  #condemnLong(): void {
    this.#condemn('line-too-long', `a line of more than ${LONGEST_LINE_BYTES} bytes; check the baud rate`);
  }

  #condemn(code: 'line-too-long' | 'not-text', detail: string): void {
    if (this.#fate === 'drop') return;
    this.#fate = 'drop';
    this.#heldLength = 0;
    this.#listener.onDropped(code, detail);
  }

  #pass(lines: Uint8Array, mayHaveHigh: boolean): void {
    if (lines.length === 0) return;
    if (!mayHaveHigh || isUtf8(lines)) this.#listener.onLines(lines);
    else this.#passOneByOne(lines);
  }

  #passOneByOne(lines: Uint8Array): void {
    for (let start = 0; start < lines.length;) {
      const end = lines.indexOf(LINE_FEED, start) + 1;
      const line = lines.subarray(start, end);
      const text = isUtf8(line) ? line : this.#latin1Signs ? utf8FromLatin1Signs(line) : null;
      if (text !== null) this.#listener.onLines(text);
      else this.#listener.onDropped('not-text', notUtf8(line));
      start = end;
    }
  }
}

/** Whether four bytes are all beyond CR and below 128. One that isn't sets its highest bit here or by a borrow. */
function isPlainWord(word: number): boolean {
  return (((word - FIRST_PLAIN_BYTES) | word) & HIGHEST_BITS) === 0;
}

function tooLong(length: number, lastByte: number | undefined): boolean {
  return length > LONGEST_LINE_BYTES && !(length === LONGEST_LINE_BYTES + 1 && lastByte === BLANK);
}

function notUtf8(line: Uint8Array): string {
  return `a line that is not UTF-8 text; check the baud rate, or set the device to plain ASCII: "${Buffer.from(line).toString('latin1')}"`;
}
