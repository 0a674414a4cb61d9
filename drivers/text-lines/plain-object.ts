import { JsonNumberReader } from './json-number.js';
import { endOfText, endOfWord } from './json-text.js';
import { LineShape, NO_SLOT, TEXT, WORD } from './line-shape.js';

const SPACE = 32;
const TAB = 9;
const QUOTE = 34;
const COMMA = 44;
const COLON = 58;
const OPENING_BRACKET = 91;
const CLOSING_BRACKET = 93;
const LAST_LETTER = 122;
const OPENING_BRACE = 123;
const CLOSING_BRACE = 125;
const ENCODER = new TextEncoder();

/** Boards nest one or two deep; what is deeper is left to the plain path. */
const DEEPEST = 8;
const NO_KEYS: readonly Key[] = [];
/** Boards print a few kinds of lines in turns. */
const MOST_SHAPES = 4;

/** A key that leads to a title. */
interface Key {
  readonly bytes: Uint8Array;
  /** Where its number goes; -1 for a key that only leads further. */
  readonly slot: number;
  readonly inside: readonly Key[];
  /** The slots of everything inside it. */
  readonly beneath: readonly number[];
}

/**
 * Reads the objects that boards mostly print, with plain keys and texts, without making an object of them (RFC 8259).
 * What has escapes in it, or anything but a number where one is wanted, it leaves to the plain path.
 */
export class PlainObject {
  /** The numbers in the order of the titles; NaN for a title that isn't there. Valid after a line was read. */
  readonly values: Float64Array;
  /** Under the titles as keys at the top, which count first, and behind them under the titles as paths. */
  readonly #slots: Float64Array;
  readonly #keys: readonly Key[];
  readonly #numbers = new JsonNumberReader();
  /** The newest kinds of lines. */
  readonly #shapes = Array.from({ length: MOST_SHAPES }, () => new LineShape(this.#numbers));
  /** The shape of the line read last, and the one that the next new kind takes. */
  #last = 0;
  #next = 0;
  /** Whether the slots hold more than what the last line's shape fills. */
  #isSoiled = false;
  /** Whether two values of the line under way went to one place. */
  #hasTwice = false;

  constructor(titles: readonly string[]) {
    this.#slots = new Float64Array(2 * titles.length);
    this.values = new Float64Array(titles.length);
    this.#keys = keysOf(
      titles.flatMap((title, slot) => {
        const path = title.split('.');
        const direct = { path: [title], slot };
        return path.length === 1 ? [direct] : [direct, { path, slot: titles.length + slot }];
      }),
    );
  }

  /** Reads the line that begins at `start` when it has a known shape; where its line feed is, -1 when it hasn't. */
  readAlike(lines: Uint8Array, start: number): number {
    for (let tried = 0; tried < MOST_SHAPES; tried += 1) {
      const index = (this.#last + tried) % MOST_SHAPES;
      // The same slots as in a last line of this shape are filled, so that the others need no clearing.
      if (tried > 0 || this.#isSoiled) this.#slots.fill(NaN);
      const end = (this.#shapes[index] as LineShape).read(lines, start, this.#slots);
      this.#isSoiled = end < 0;
      if (end < 0) continue;
      this.#last = index;
      return this.#settle() ? end : -1;
    }
    return -1;
  }

  /** Whether the whole line was read and at least one title was found. */
  read(line: Uint8Array): boolean {
    this.#slots.fill(NaN);
    this.#isSoiled = true;
    this.#shape.forget();
    this.#hasTwice = false;
    const from = skipBlanks(line, 0);
    if (line[from] !== OPENING_BRACE) return false;
    const end = this.#object(line, from, this.#keys, 1);
    if (end < 0 || skipBlanks(line, end) !== line.length) return false;
    // Such a shape would have to remember which of the two counts.
    if (!this.#hasTwice) {
      this.#shape.keep(line);
      this.#next = (this.#next + 1) % MOST_SHAPES;
    }
    return this.#settle();
  }

  /** The one that the line under way becomes. */
  get #shape(): LineShape {
    return this.#shapes[this.#next] as LineShape;
  }

  /** Takes what stood under a path where the title was no key itself; false when nothing was found at all. */
  #settle(): boolean {
    const { values } = this;
    const slots = this.#slots;
    let found = false;
    for (let slot = 0; slot < values.length; slot += 1) {
      const direct = slots[slot] as number;
      const value = Number.isNaN(direct) ? (slots[values.length + slot] as number) : direct;
      values[slot] = value;
      found ||= !Number.isNaN(value);
    }
    return found;
  }

  /** Where the object that opens at `from` ends; -1 when something in it isn't plain. */
  #object(line: Uint8Array, from: number, keys: readonly Key[], depth: number): number {
    let at = from;
    do {
      const keyStart = skipBlanks(line, at + 1);
      const keyEnd = endOfText(line, keyStart);
      if (keyEnd < 0) return -1;
      const key = keyAt(keys, line, keyStart + 1, keyEnd);
      at = skipBlanks(line, keyEnd + 1);
      if (line[at] !== COLON) return -1;
      at = this.#value(line, skipBlanks(line, at + 1), key, depth);
      if (at < 0) return -1;
      at = skipBlanks(line, at);
    } while (line[at] === COMMA);
    return line[at] === CLOSING_BRACE ? at + 1 : -1;
  }

  /** Where the value ends; -1 for one that isn't plain. */
  #value(line: Uint8Array, from: number, key: Key | null, depth: number): number {
    const slot = key === null ? NO_SLOT : key.slot;
    // Of two values under one key the last counts, with all that is in it.
    if (key !== null) for (const inner of key.beneath) this.#put(inner, NaN);
    const first = line[from];
    if (first === QUOTE) {
      const end = slot < 0 ? endOfText(line, from) : -1;
      if (end < 0) return -1;
      this.#shape.note(from, end + 1, TEXT);
      return end + 1;
    }
    if (first === OPENING_BRACE) {
      if (slot >= 0 || depth === DEEPEST) return -1;
      return this.#object(line, from, key === null ? NO_KEYS : key.inside, depth + 1);
    }
    if (first === OPENING_BRACKET) {
      const isWanted = slot >= 0 || (key !== null && key.inside.length > 0);
      return isWanted || depth === DEEPEST ? -1 : this.#list(line, from, depth + 1);
    }
    if (slot < 0 && first !== undefined && first > CLOSING_BRACKET && first <= LAST_LETTER) {
      const end = endOfWord(line, from);
      if (end >= 0) this.#shape.note(from, end, WORD);
      return end;
    }
    const numbers = this.#numbers;
    const end = numbers.read(line, from);
    if (end < 0) return -1;
    if (slot >= 0) this.#put(slot, numbers.value);
    this.#shape.note(from, end, slot);
    return end;
  }

  /** Where the list that opens at `from` ends; -1 when something in it isn't plain. Nobody wants what is in it. */
  #list(line: Uint8Array, from: number, depth: number): number {
    let at = skipBlanks(line, from + 1);
    if (line[at] === CLOSING_BRACKET) return at + 1;
    for (;;) {
      at = this.#value(line, at, null, depth);
      if (at < 0) return -1;
      at = skipBlanks(line, at);
      if (line[at] === CLOSING_BRACKET) return at + 1;
      if (line[at] !== COMMA) return -1;
      at = skipBlanks(line, at + 1);
    }
  }

  #put(slot: number, value: number): void {
    this.#hasTwice ||= !Number.isNaN(this.#slots[slot]);
    this.#slots[slot] = value;
  }
}

interface Wanted {
  readonly path: readonly string[];
  readonly slot: number;
}

/** The first keys of these paths, each with what is wanted inside it. */
function keysOf(wanted: readonly Wanted[]): readonly Key[] {
  const names = [...new Set(wanted.map(({ path }) => path[0] as string))];
  return names.map((name) => {
    const under = wanted.filter(({ path }) => path[0] === name);
    const further = under.filter(({ path }) => path.length > 1);
    return {
      bytes: ENCODER.encode(name),
      slot: under.find(({ path }) => path.length === 1)?.slot ?? NO_SLOT,
      inside: keysOf(further.map(({ path, slot }) => ({ path: path.slice(1), slot }))),
      beneath: further.map(({ slot }) => slot),
    };
  });
}

function keyAt(keys: readonly Key[], line: Uint8Array, from: number, to: number): Key | null {
  for (let index = 0; index < keys.length; index += 1) {
    const key = keys[index] as Key;
    const { bytes } = key;
    if (bytes.length !== to - from) continue;
    let same = 0;
    while (same < bytes.length && bytes[same] === line[from + same]) same += 1;
    if (same === bytes.length) return key;
  }
  return null;
}

function skipBlanks(line: Uint8Array, from: number): number {
  let at = from;
  while (line[at] === SPACE || line[at] === TAB) at += 1;
  return at;
}
