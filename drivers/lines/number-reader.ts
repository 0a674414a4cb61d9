import type { ReadingMark } from '../driver.js';

/** Powers of ten that a double holds exactly. */
const EXACT_POWERS = Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));
const MOST_EXACT_POWER = EXACT_POWERS.length - 1;
/** Up to here an integer of that many digits is exact, so that one division rounds correctly (Clinger 1990). */
const EXACT_DIGITS = 15;
/** The longest number that an instrument sends: 22 characters in NR3 form (IEEE 488.2). */
const LONGEST_NUMBER = 22;
const MOST_EXPONENT_DIGITS = 3;

/**
 * What instruments and boards print where a number can't be shown: beyond the range, or a sensor that isn't there.
 * `INFINITY`, `NINF` and `NAN` from SCPI-1999; the others common practice.
 */
const MARK_WORDS: readonly (readonly [word: string, mark: ReadingMark])[] = [
  ['OVERLOAD', 'overload'],
  ['OVERRANGE', 'overload'],
  ['OVERFLOW', 'overload'],
  ['OVLD', 'overload'],
  ['OVER', 'overload'],
  ['INFINITY', 'overload'],
  ['NINF', 'overload'],
  ['INF', 'overload'],
  ['O.L', 'overload'],
  ['.OL', 'overload'],
  ['OL.', 'overload'],
  ['OVF', 'overload'],
  ['OFL', 'overload'],
  ['OL', 'overload'],
  ['OPEN', 'not-a-number'],
  ['FAULT', 'not-a-number'],
  ['ERROR', 'not-a-number'],
  ['ERR', 'not-a-number'],
  ['NULL', 'not-a-number'],
  ['NONE', 'not-a-number'],
  ['NAN', 'not-a-number'],
  ['N/A', 'not-a-number'],
];
const LONGEST_MARK_WORD = 9;
/** An L right behind a nought, with a point perhaps: `0L`, `0.L`, from displays whose O is a nought. */
const UPPER_L = 76;

const PLUS = 43;
const MINUS = 45;
const POINT = 46;
const COMMA = 44;
const ZERO = 48;
const NINE = 57;
const UPPER_E = 69;
const LOWER_E = 101;

/** What stands between a number's whole part and its decimals. */
export type DecimalMark = 'point' | 'comma';

/**
 * Reads one number, or one of the words for an overload, out of a line of UTF-8. Keeps its results in fields so
 * that reading allocates nothing.
 */
export class NumberReader {
  /** The number, infinite beyond what a double holds; NaN when `mark` is set. */
  value = NaN;
  /** Set when a word stood in the place of the number. */
  mark: ReadingMark | null = null;
  /** Where the number or word ended. */
  end = 0;
  #exponent = 0;
  readonly #decimalMark: number;

  constructor(decimal: DecimalMark = 'point') {
    this.#decimalMark = decimal === 'comma' ? COMMA : POINT;
  }

  /**
   * Reads at `from`: sign, digits, a decimal point, an exponent (NR1, NR2 and NR3 of IEEE 488.2), or a word such as
   * `OL` or `----`. Takes all that belongs to the number. False when there is none or it is longer than any
   * instrument sends.
   */
  read(line: Uint8Array, from: number): boolean {
    if (!this.#readNumber(line, from)) return this.#readMark(line, from);
    if (this.value !== 0 || byteAt(line, this.end) !== UPPER_L) return true;
    return isWordByte(byteAt(line, this.end + 1)) || this.#marked('overload', this.end + 1);
  }

  #readNumber(line: Uint8Array, from: number): boolean {
    const first = byteAt(line, from);
    const decimalMark = this.#decimalMark;
    let at = first === MINUS || first === PLUS ? from + 1 : from;
    let mantissa = 0;
    let digits = 0;
    let pointAt = -1;
    for (; at < line.length; at += 1) {
      const byte = line[at] as number;
      if (byte >= ZERO && byte <= NINE) {
        mantissa = mantissa * 10 + (byte - ZERO);
        digits += 1;
      } else if (byte === decimalMark && pointAt < 0 && this.#isDecimal(line, at)) pointAt = at;
      else break;
    }
    if (digits === 0) return false;
    const end = this.#readExponent(line, at);
    if (end < 0 || end - from > LONGEST_NUMBER) return false;
    this.mark = null;
    this.end = end;
    const power = this.#exponent + (pointAt < 0 ? 0 : pointAt + 1 - at);
    const isExact = digits <= EXACT_DIGITS && power >= -MOST_EXACT_POWER && power <= MOST_EXACT_POWER;
    if (isExact) this.value = exactly(first === MINUS ? -mantissa : mantissa, power);
    else this.value = Number(asciiOf(line, from, end).replace(',', '.'));
    return true;
  }

  /** A comma without a digit behind it separates, as in `12,5, 13,1`; a point there is still the number's. */
  #isDecimal(line: Uint8Array, at: number): boolean {
    return this.#decimalMark === POINT || isDigit(byteAt(line, at + 1));
  }

  /** The end of `e-12` at `from`; `from` itself when no digits follow the letter, -1 when too many do. */
  #readExponent(line: Uint8Array, from: number): number {
    this.#exponent = 0;
    const letter = byteAt(line, from);
    if (letter !== UPPER_E && letter !== LOWER_E) return from;
    const sign = byteAt(line, from + 1);
    const start = sign === MINUS || sign === PLUS ? from + 2 : from + 1;
    let size = 0;
    let at = start;
    for (; isDigit(byteAt(line, at)); at += 1) {
      if (at - start === MOST_EXPONENT_DIGITS) return -1;
      size = size * 10 + (byteAt(line, at) - ZERO);
    }
    if (at === start) return from;
    this.#exponent = sign === MINUS ? -size : size;
    return at;
  }

  #readMark(line: Uint8Array, from: number): boolean {
    const dashesEnd = endOfDashes(line, from);
    if (dashesEnd > 0) return this.#marked('overload', dashesEnd);
    const first = byteAt(line, from);
    const start = first === MINUS || first === PLUS ? from + 1 : from;
    const upper = asciiOf(line, start, start + LONGEST_MARK_WORD).toUpperCase();
    const found = MARK_WORDS.find(([word]) => upper.startsWith(word));
    if (found === undefined) return false;
    const [word, mark] = found;
    return !isWordByte(byteAt(line, start + word.length)) && this.#marked(mark, start + word.length);
  }

  #marked(mark: ReadingMark, end: number): true {
    this.value = NaN;
    this.mark = mark;
    this.end = end;
    return true;
  }
}

/** `integer` times ten to the `power`, rounded once. */
function exactly(integer: number, power: number): number {
  return power < 0 ? integer / (EXACT_POWERS[-power] as number) : integer * (EXACT_POWERS[power] as number);
}

/** The end of a run such as `----` or `--.-` at `from`; -1 when there is none or a digit follows. */
function endOfDashes(line: Uint8Array, from: number): number {
  let at = from;
  let dashes = 0;
  for (; byteAt(line, at) === MINUS || byteAt(line, at) === POINT; at += 1) {
    if (byteAt(line, at) === MINUS) dashes += 1;
  }
  return dashes < 2 || isDigit(byteAt(line, at)) ? -1 : at;
}

/** The byte at `at`, or -1 past the end. */
function byteAt(line: Uint8Array, at: number): number {
  return at < line.length ? (line[at] as number) : -1;
}

function asciiOf(line: Uint8Array, from: number, to: number): string {
  return String.fromCharCode(...line.subarray(from, to));
}

function isDigit(byte: number): boolean {
  return byte >= ZERO && byte <= NINE;
}

function isWordByte(byte: number): boolean {
  return isDigit(byte) || (byte >= 65 && byte <= 90) || (byte >= 97 && byte <= 122) || byte === 95;
}
