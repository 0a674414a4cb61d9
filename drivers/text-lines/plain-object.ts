import { NumberReader } from '../lines/number-reader.js';

const SPACE = 32;
const TAB = 9;
const QUOTE = 34;
const COMMA = 44;
const MINUS = 45;
const POINT = 46;
const ZERO = 48;
const COLON = 58;
const BACKSLASH = 92;
const OPENING_BRACE = 123;
const CLOSING_BRACE = 125;
const ENCODER = new TextEncoder();

/**
 * Reads the objects that boards mostly print, numbers and short texts under plain keys, without making an object of
 * them (RFC 8259). What has anything else in it, or a text where a number is wanted, it leaves to the plain path.
 */
export class PlainObject {
  /** The numbers in the order of the titles; NaN for a title that isn't there. Valid after `read` gave true. */
  readonly values: Float64Array;
  readonly #titles: readonly Uint8Array[];
  readonly #numbers = new NumberReader();

  constructor(titles: readonly string[]) {
    this.values = new Float64Array(titles.length);
    this.#titles = titles.map((title) => ENCODER.encode(title));
  }

  /** Whether the whole line was read and at least one title was found. */
  read(line: Uint8Array): boolean {
    this.values.fill(NaN);
    let found = false;
    let at = skipBlanks(line, 0);
    if (line[at] !== OPENING_BRACE) return false;
    do {
      const keyStart = skipBlanks(line, at + 1);
      const keyEnd = endOfText(line, keyStart);
      if (keyEnd < 0) return false;
      const slot = this.#slotOf(line, keyStart + 1, keyEnd);
      at = skipBlanks(line, keyEnd + 1);
      if (line[at] !== COLON) return false;
      at = this.#value(line, skipBlanks(line, at + 1), slot);
      if (at < 0) return false;
      found ||= slot >= 0;
      at = skipBlanks(line, at);
    } while (line[at] === COMMA);
    return found && line[at] === CLOSING_BRACE && skipBlanks(line, at + 1) === line.length;
  }

  /** Where the value ends; -1 for one that isn't plain. */
  #value(line: Uint8Array, from: number, slot: number): number {
    if (line[from] === QUOTE) {
      const end = slot < 0 ? endOfText(line, from) : -1;
      return end < 0 ? -1 : end + 1;
    }
    const numbers = this.#numbers;
    if (!numbers.read(line, from) || numbers.mark !== null || !isJsonNumber(line, from, numbers.end))
      return -1;
    if (slot >= 0) this.values[slot] = numbers.value;
    return numbers.end;
  }

  #slotOf(line: Uint8Array, from: number, to: number): number {
    for (let slot = 0; slot < this.#titles.length; slot += 1) {
      const title = this.#titles[slot] as Uint8Array;
      if (title.length !== to - from) continue;
      let same = 0;
      while (same < title.length && title[same] === line[from + same]) same += 1;
      if (same === title.length) return slot;
    }
    return -1;
  }
}

/** Where the closing quote of the text at `from` stands; -1 when there is none, or an escape or a control character. */
function endOfText(line: Uint8Array, from: number): number {
  if (line[from] !== QUOTE) return -1;
  for (let at = from + 1; at < line.length; at += 1) {
    const byte = line[at] as number;
    if (byte === QUOTE) return at;
    if (byte === BACKSLASH || byte < SPACE) return -1;
  }
  return -1;
}

/** JSON has no plus, no noughts in front, and digits on both sides of a point. */
function isJsonNumber(line: Uint8Array, from: number, end: number): boolean {
  const start = line[from] === MINUS ? from + 1 : from;
  if (!isDigit(line[start])) return false;
  if (line[start] === ZERO && isDigit(line[start + 1])) return false;
  for (let at = start; at < end; at += 1) {
    if (line[at] === POINT && !isDigit(line[at + 1])) return false;
  }
  return true;
}

function isDigit(byte: number | undefined): boolean {
  return byte !== undefined && byte >= ZERO && byte <= ZERO + 9;
}

function skipBlanks(line: Uint8Array, from: number): number {
  let at = from;
  while (line[at] === SPACE || line[at] === TAB) at += 1;
  return at;
}
