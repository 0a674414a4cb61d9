import { LONGEST_LINE_BYTES } from '../lines/guard.js';
import type { JsonNumberReader } from './json-number.js';
import { endOfText, endOfWord } from './json-text.js';

const MOST_PLACES = 64;
const LINE_FEED = 10;
/** In place of slots: a number that nobody wants, a text, and one of JSON's words. */
export const NO_SLOT = -1;
export const TEXT = -2;
export const WORD = -3;

/**
 * A line that was read, with the places of its numbers, texts and words. Boards print one shape of line after another,
 * in which only these change: such a line is compared and its numbers are taken, without reading its keys again.
 */
export class LineShape {
  readonly #numbers: JsonNumberReader;
  /** The line, with the blank that its CR may have become. */
  readonly #bytes = new Uint8Array(LONGEST_LINE_BYTES + 1);
  #length = 0;
  readonly #starts = new Int32Array(MOST_PLACES);
  readonly #ends = new Int32Array(MOST_PLACES);
  readonly #slots = new Int32Array(MOST_PLACES);
  #count = 0;

  constructor(numbers: JsonNumberReader) {
    this.#numbers = numbers;
  }

  /** Begins a new line: forgets the one before. */
  forget(): void {
    this.#length = 0;
    this.#count = 0;
  }

  /** Notes one more place of the line under way: a number's slot, or what else is there. */
  note(start: number, end: number, slot: number): void {
    if (this.#count < MOST_PLACES) {
      this.#starts[this.#count] = start;
      this.#ends[this.#count] = end;
      this.#slots[this.#count] = slot;
    }
    this.#count += 1;
  }

  /** Keeps the line whose places were noted. A line with too many of them is not kept. */
  keep(line: Uint8Array): void {
    if (this.#count > MOST_PLACES || line.length > this.#bytes.length) return this.forget();
    this.#bytes.set(line);
    this.#length = line.length;
  }

  /**
   * Where the line feed of the line that begins at `start` stands, its numbers then in their slots; -1 when the line
   * has another shape than the kept one. One loop, hot.
   */
  read(lines: Uint8Array, start: number, slots: Float64Array): number {
    const length = this.#length;
    if (length === 0) return -1;
    const bytes = this.#bytes;
    const numbers = this.#numbers;
    const count = this.#count;
    let at = start;
    let from = 0;
    for (let place = 0; place < count; place += 1) {
      const to = this.#starts[place] as number;
      for (; from < to; from += 1, at += 1) if (bytes[from] !== lines[at]) return -1;
      const slot = this.#slots[place] as number;
      const end = slot >= NO_SLOT ? numbers.read(lines, at) : endOfOther(slot, lines, at);
      if (end <= 0) return -1;
      if (slot >= 0) slots[slot] = numbers.value;
      at = end;
      from = this.#ends[place] as number;
    }
    for (; from < length; from += 1, at += 1) if (bytes[from] !== lines[at]) return -1;
    return lines[at] === LINE_FEED ? at : -1;
  }
}

function endOfOther(slot: number, lines: Uint8Array, from: number): number {
  return slot === TEXT ? endOfText(lines, from) + 1 : endOfWord(lines, from);
}
