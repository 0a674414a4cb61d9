import type { Measurand, ReadingMark } from '../driver.js';
import { NumberReader, type DecimalMark } from '../lines/number-reader.js';
import { timesPower, unitPower } from '../lines/unit-words.js';

/** What a cell of a table, or a text in JSON, says. `value` is NaN when `mark` is set. */
export interface CellValue {
  readonly value: number;
  readonly mark: ReadingMark | null;
}

const ENCODER = new TextEncoder();
const MISSING: CellValue = { value: NaN, mark: 'not-a-number' };

/** Reads cells that hold one number each: `45.1`, `45,1`, `12.06 mV`, `OL`. */
export class CellReader {
  readonly #numbers: NumberReader;

  constructor(decimal: DecimalMark) {
    this.#numbers = new NumberReader(decimal);
  }

  /**
   * The cell's number in the measurand's unit. `power` goes with a number that has no unit of its own. An empty cell is
   * a sensor that gave nothing; null for a cell that isn't a number.
   */
  read(cell: string, measurand: Measurand, power: number): CellValue | null {
    const text = cell.trim();
    if (text === '') return MISSING;
    const bytes = ENCODER.encode(text);
    const numbers = this.#numbers;
    if (!numbers.read(bytes, 0)) return null;
    // All that the number reader takes is ASCII, so that places in the bytes are places in the text.
    const unit = text.slice(numbers.end).trim();
    if (numbers.mark !== null) return { value: NaN, mark: numbers.mark };
    const ownPower = unit === '' ? power : unitPower(measurand, unit);
    return ownPower === undefined ? null : { value: timesPower(numbers.value, ownPower), mark: null };
  }
}
