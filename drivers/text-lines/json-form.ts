import type { ReadingMark } from '../driver.js';
import type { FaultTeller } from '../fault-teller.js';
import { timesPower } from '../lines/unit-words.js';
import type { DecimalMark } from '../lines/number-reader.js';
import { CellReader, type CellValue } from './cell.js';
import type { WantedField } from './fields.js';
import type { GiveReading, LineForm } from './line-form.js';
import { PlainObject } from './plain-object.js';

const DECODER = new TextDecoder();
const MOST_QUOTED = 200;
const SPACE = 32;
const TAB = 9;
const OPENING_BRACE = 123;
const CLOSING_BRACE = 125;
/** What C's printf and boards write in place of a number that is none, and JSON doesn't know. */
const NO_NUMBER = /([:,[]\s*)([+-]?(?:nan|inf|infinity|ovf))(?=\s*[,}\]])/gi;

/** Lines that are one JSON object each (RFC 8259). A title is a key, or a path of keys with dots: `temperatures.t1`. */
export function jsonForm(
  fields: readonly WantedField[],
  decimal: DecimalMark,
  faults: FaultTeller,
  give: GiveReading,
): LineForm {
  const cells = new CellReader(decimal);

  function refuse(why: string, line: Uint8Array): void {
    const text = DECODER.decode(line.subarray(0, MOST_QUOTED)).trim();
    if (text !== '') faults.count('not-understood', why, text);
  }

  /** For anything but a bare number. */
  function valueOf(found: unknown, { spec, power }: WantedField): CellValue | null {
    if (typeof found === 'string') return cells.read(found, spec.measures, power);
    return found === null ? { value: NaN, mark: 'not-a-number' } : null;
  }

  // One slot a field, overwritten by every line: a flood of lines must not make a flood of records too.
  const paths = fields.map(({ title }) => title.split('.'));
  const values = new Float64Array(fields.length);
  const marks = fields.map((): ReadingMark | null => null);
  const isThere = fields.map(() => false);
  const plain = new PlainObject(fields.map(({ title }) => title));

  function givePlain(atMs: number): void {
    for (let slot = 0; slot < fields.length; slot += 1) {
      const value = plain.values[slot] as number;
      const field = fields[slot] as WantedField;
      if (!Number.isNaN(value)) give(field.make(timesPower(value, field.power), null, atMs));
    }
  }

  /** How many fields the object has; -1 when one of them, which is told, holds no number. */
  function readFields(object: object, line: Uint8Array): number {
    let found = 0;
    for (let slot = 0; slot < fields.length; slot += 1) {
      const field = fields[slot] as WantedField;
      const raw = keyed(object, field.title, paths[slot] as readonly string[]);
      isThere[slot] = raw !== undefined;
      if (raw === undefined) continue;
      const value = typeof raw === 'number' ? null : valueOf(raw, field);
      if (typeof raw !== 'number' && value === null) {
        refuse(`${field.title} holds no number`, line);
        return -1;
      }
      values[slot] = typeof raw === 'number' ? timesPower(raw, field.power) : (value?.value ?? NaN);
      marks[slot] = value?.mark ?? null;
      found += 1;
    }
    return found;
  }

  return {
    wantsFirst: false,
    takeAlike(lines, start, atMs) {
      const end = plain.readAlike(lines, start);
      if (end >= 0) givePlain(atMs);
      return end;
    },
    take(line, atMs) {
      if (plain.read(line)) return givePlain(atMs);
      const object = parsed(line);
      if (object === undefined) return refuse('a line that is not a JSON object', line);
      const found = readFields(object, line);
      if (found === 0) refuse('a JSON object with none of the fields', line);
      if (found <= 0) return;
      for (let slot = 0; slot < fields.length; slot += 1) {
        if (isThere[slot] !== true) continue;
        give((fields[slot] as WantedField).make(values[slot] as number, marks[slot] ?? null, atMs));
      }
    },
  };
}

/** Undefined for anything but an object. */
function parsed(line: Uint8Array): object | undefined {
  // A flood of other lines would cost an exception each.
  if (!isInBraces(line)) return undefined;
  const text = DECODER.decode(line);
  const found = parsedText(text);
  if (found !== undefined) return found;
  const quoted = text.replace(NO_NUMBER, '$1"$2"');
  return quoted === text ? undefined : parsedText(quoted);
}

function parsedText(text: string): object | undefined {
  try {
    const found: unknown = JSON.parse(text);
    return typeof found === 'object' && found !== null ? found : undefined;
  } catch (problem) {
    if (problem instanceof SyntaxError) return undefined;
    throw problem;
  }
}

/** Looked up in the bytes, blanks around them left aside: text is made once, and only of what may be an object. */
function isInBraces(line: Uint8Array): boolean {
  let start = 0;
  let end = line.length - 1;
  while (isBlank(line[start])) start += 1;
  while (end > start && isBlank(line[end])) end -= 1;
  return line[start] === OPENING_BRACE && line[end] === CLOSING_BRACE;
}

function isBlank(byte: number | undefined): boolean {
  return byte === SPACE || byte === TAB;
}

/** What stands under a key, or under a path of keys; undefined when nothing does. */
function keyed(object: object, title: string, path: readonly string[]): unknown {
  if (Object.hasOwn(object, title)) return (object as Record<string, unknown>)[title];
  if (path.length === 1) return undefined;
  let found: unknown = object;
  for (const key of path) {
    if (typeof found !== 'object' || found === null || !Object.hasOwn(found, key)) return undefined;
    found = (found as Record<string, unknown>)[key];
  }
  return found;
}
