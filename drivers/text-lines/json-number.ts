import { NumberReader } from '../lines/number-reader.js';
import { timesPower } from '../lines/unit-words.js';

const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const NINE = 57;
const UPPER_E = 69;
const LOWER_E = 101;
/** Up to here an integer of that many digits is exact, so that one division rounds correctly (Clinger 1990). */
const EXACT_DIGITS = 15;

/** Reads JSON's numbers (RFC 8259, section 6): no plus, no noughts in front, digits on both sides of a point. */
export class JsonNumberReader {
  /** The number last read. */
  value = NaN;
  readonly #others = new NumberReader();

  /** Where the number at `from` ends; -1 when there is none, or one longer than any instrument sends. One pass, hot. */
  read(bytes: Uint8Array, from: number): number {
    const isNegative = bytes[from] === MINUS;
    const start = isNegative ? from + 1 : from;
    let at = start;
    let byte = bytes[at] as number;
    let mantissa = 0;
    for (; byte >= ZERO && byte <= NINE; byte = bytes[at] as number) {
      mantissa = mantissa * 10 + (byte - ZERO);
      at += 1;
    }
    if (at === start || (at > start + 1 && bytes[start] === ZERO)) return -1;
    let digits = at - start;
    let decimals = 0;
    if (byte === POINT) {
      at += 1;
      const first = at;
      for (byte = bytes[at] as number; byte >= ZERO && byte <= NINE; byte = bytes[at] as number) {
        mantissa = mantissa * 10 + (byte - ZERO);
        at += 1;
      }
      decimals = at - first;
      if (decimals === 0) return -1;
      digits += decimals;
    }
    if (byte === LOWER_E || byte === UPPER_E || digits > EXACT_DIGITS) return this.#readOther(bytes, from);
    this.value = timesPower(isNegative ? -mantissa : mantissa, -decimals);
    return at;
  }

  /** Numbers with exponents, and those that one division doesn't round correctly. */
  #readOther(bytes: Uint8Array, from: number): number {
    const numbers = this.#others;
    if (!numbers.read(bytes, from) || numbers.mark !== null) return -1;
    this.value = numbers.value;
    return numbers.end;
  }
}
