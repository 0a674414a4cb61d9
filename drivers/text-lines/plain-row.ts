import { NumberReader, type DecimalMark } from '../lines/number-reader.js';
import { timesPower } from '../lines/unit-words.js';

const SPACE = 32;
const TAB = 9;
const QUOTE = 34;
const NOT_WANTED = -1;

export interface PlainColumn {
  /** Which cell of the row, from 0. */
  readonly at: number;
  /** Power of ten to the channel's unit. */
  readonly power: number;
}

/**
 * Reads the rows that a table mostly consists of, bare numbers between separators, without making text of them. What
 * has quotes, units, marks or gaps it leaves to the plain path, which says the same of what both can read.
 */
export class PlainRow {
  /** The numbers in the order of the columns. Valid after `read` gave true. */
  readonly values: Float64Array;
  readonly #powers: readonly number[];
  /** For each cell of the row which column it is, or that nobody wants it. */
  readonly #columnAt: Int32Array;
  readonly #separator: number;
  readonly #numbers: NumberReader;

  constructor(cells: number, columns: readonly PlainColumn[], separator: number, decimal: DecimalMark) {
    this.values = new Float64Array(columns.length);
    this.#powers = columns.map(({ power }) => power);
    this.#columnAt = new Int32Array(cells).fill(NOT_WANTED);
    columns.forEach(({ at }, column) => void (this.#columnAt[at] = column));
    this.#separator = separator;
    this.#numbers = new NumberReader(decimal);
  }

  /** Whether the whole row was read. */
  read(line: Uint8Array): boolean {
    const cells = this.#columnAt.length;
    let at = 0;
    for (let cell = 0; cell < cells; cell += 1) {
      const column = this.#columnAt[cell] as number;
      at = column === NOT_WANTED ? this.#endOfCell(line, at) : this.#readCell(line, at, column);
      if (at < 0) return false;
      if (cell < cells - 1 && line[at] !== this.#separator) return false;
      at += 1;
    }
    return at > line.length;
  }

  /** Where the cell ends, its number taken; -1 when it holds anything else. */
  #readCell(line: Uint8Array, from: number, column: number): number {
    const numbers = this.#numbers;
    if (!numbers.read(line, this.#skipBlanks(line, from)) || numbers.mark !== null) return -1;
    this.values[column] = timesPower(numbers.value, this.#powers[column] as number);
    const end = this.#skipBlanks(line, numbers.end);
    return end === line.length || line[end] === this.#separator ? end : -1;
  }

  /** -1 for a cell with quotes, which may hold a separator. */
  #endOfCell(line: Uint8Array, from: number): number {
    for (let at = from; at < line.length; at += 1) {
      if (line[at] === this.#separator) return at;
      if (line[at] === QUOTE) return -1;
    }
    return line.length;
  }

  #skipBlanks(line: Uint8Array, from: number): number {
    let at = from;
    while (line[at] === SPACE || (line[at] === TAB && this.#separator !== TAB)) at += 1;
    return at;
  }
}
