import { LONGEST_LINE_BYTES } from '../lines/guard.js';
import type { NumberReader } from '../lines/number-reader.js';
import { isJsonNumber } from './json-number.js';

const MOST_NUMBERS = 64;

/**
 * The last line that was read, with the places of its numbers. Boards print one shape of line after another, in which
 * only the numbers change: such a line is compared and its numbers are taken, without reading its keys again.
 */
export class LineShape {
  readonly #numbers: NumberReader;
  /** The line, with the blank that its CR may have become. */
  readonly #bytes = new Uint8Array(LONGEST_LINE_BYTES + 1);
  #length = 0;
  readonly #starts = new Int32Array(MOST_NUMBERS);
  readonly #ends = new Int32Array(MOST_NUMBERS);
  readonly #slots = new Int32Array(MOST_NUMBERS);
  #count = 0;

  constructor(numbers: NumberReader) {
    this.#numbers = numbers;
  }

  /** Begins a new line: forgets the one before. */
  forget(): void {
    this.#length = 0;
    this.#count = 0;
  }

  /** Notes one more number of the line under way; `slot` is -1 for one that nobody wants. */
  note(start: number, end: number, slot: number): void {
    if (this.#count < MOST_NUMBERS) {
      this.#starts[this.#count] = start;
      this.#ends[this.#count] = end;
      this.#slots[this.#count] = slot;
    }
    this.#count += 1;
  }

  /** Keeps the line whose numbers were noted. A line with too many of them is not kept. */
  keep(line: Uint8Array): void {
    if (this.#count > MOST_NUMBERS || line.length > this.#bytes.length) return this.forget();
    this.#bytes.set(line);
    this.#length = line.length;
  }

  /** Whether the line has the kept one's shape; its numbers are then in their slots. */
  read(line: Uint8Array, slots: Float64Array): boolean {
    if (this.#length === 0) return false;
    const bytes = this.#bytes;
    const numbers = this.#numbers;
    let shift = 0;
    let from = 0;
    for (let each = 0; each < this.#count; each += 1) {
      const start = this.#starts[each] as number;
      if (start + shift >= line.length) return false;
      for (; from < start; from += 1) if (bytes[from] !== line[from + shift]) return false;
      const at = start + shift;
      if (!numbers.read(line, at) || numbers.mark !== null || !isJsonNumber(line, at, numbers.end))
        return false;
      const slot = this.#slots[each] as number;
      if (slot >= 0) slots[slot] = numbers.value;
      from = this.#ends[each] as number;
      shift = numbers.end - from;
    }
    if (this.#length + shift !== line.length) return false;
    for (; from < this.#length; from += 1) if (bytes[from] !== line[from + shift]) return false;
    return true;
  }
}
