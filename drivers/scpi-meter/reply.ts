import type { Measurand, ReadingMark } from '../driver.js';
import { NumberReader } from '../lines/number-reader.js';
import { timesPower, unitPower } from '../lines/unit-words.js';
import { isHeaderOf } from './functions.js';
import { plainNumberEnd } from './plain-number.js';

/** SCPI-1999 volume 1, 7.2.1.4 and 7.2.1.5: infinity and not-a-number are sent as numbers that nothing measures. */
const INFINITY_SENT = 9.9e37;
const NOT_A_NUMBER_SENT = 9.91e37;

export interface Reply {
  /** In the measurand's unit; NaN when `mark` is set. */
  readonly value: number;
  readonly mark: ReadingMark | null;
}

/**
 * Reads the answer to `READ?`: one number in NR1, NR2 or NR3 form, perhaps with the function's name before it and
 * a unit behind it (`+1.2034E+01 VDC`). Null when the line is anything else: another function's unit, two answers
 * run together, text.
 */
export function parseReply(line: string, measurand: Measurand): Reply | null {
  const end = plainNumberEnd(line);
  if (end < 0) return parseAnyReply(line, measurand);
  const unit = line.slice(end).trim();
  const power = unit === '' ? 0 : unitPower(measurand, unit);
  return power === undefined ? parseAnyReply(line, measurand) : sentValue(Number(line.slice(0, end)), power);
}

/** The plain path: reads all that {@link parseReply} reads. */
export function parseAnyReply(line: string, measurand: Measurand): Reply | null {
  const text = withoutHeader(line.trim(), measurand);
  const bytes = Buffer.from(text);
  const numbers = new NumberReader();
  if (!numbers.read(bytes, 0)) return null;
  const unit = bytes.toString('utf8', numbers.end).trim();
  const power = unit === '' ? 0 : unitPower(measurand, unit.replace(/\s+/g, ''));
  if (power === undefined) return null;
  return numbers.mark === null ? sentValue(numbers.value, power) : { value: NaN, mark: numbers.mark };
}

/** The value at a place, counted from 1, of several with commas between; null when there are fewer. */
export function valueAt(line: string, place: number): string | null {
  return line.split(',')[place - 1]?.trim() ?? null;
}

function withoutHeader(text: string, measurand: Measurand): string {
  const blank = text.search(/\s/);
  return blank > 0 && isHeaderOf(measurand, text.slice(0, blank)) ? text.slice(blank).trim() : text;
}

function sentValue(sent: number, power: number): Reply {
  const size = Math.abs(sent);
  if (size === NOT_A_NUMBER_SENT) return { value: NaN, mark: 'not-a-number' };
  if (size >= INFINITY_SENT) return { value: NaN, mark: 'overload' };
  return { value: timesPower(sent, power), mark: null };
}
