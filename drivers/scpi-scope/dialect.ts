import { isRecord } from '../options.js';
import type { Coupling, OptionProblem } from '../driver.js';
import type { SampleForm } from './samples.js';
import tenField from './dialects/ten-field.json' with { type: 'json' };
import traceDif from './dialects/trace-dif.json' with { type: 'json' };

/** A sample form with the commands that choose it. */
export interface SampleChoice extends SampleForm {
  readonly setup: readonly string[];
}

/** How a preamble of numbers with commas between is read. */
export interface PreambleForm {
  readonly ask: string;
  /** The name of each number, in order. */
  readonly fields: readonly string[];
  /** For each format code how many bits a sample has; other codes are refused. */
  readonly formats: Readonly<Record<string, number>>;
  /** The acquisition types whose samples are evenly spaced values. */
  readonly types: readonly number[];
  /**
   * `reference-scale-origin`: (sample - yreference) x yincrement + yorigin.
   * `origin-reference-scale`: (sample - yorigin - yreference) x yincrement. Makers do it in both ways.
   */
  readonly formula: 'reference-scale-origin' | 'origin-reference-scale';
}

/** One family of scopes: its commands and how its answers are read. `{input}` stands for the input's number. */
export interface Dialect {
  readonly dialect: string;
  readonly about: string;
  /** Sent after every connection. */
  readonly setup: readonly string[];
  /** Sent before the questions about one input. */
  readonly input: readonly string[];
  readonly start: readonly string[];
  readonly abort: readonly string[];
  /** How the end of an acquisition is seen: a bit of a status register, 0 the lowest. */
  readonly done: { readonly ask: string; readonly bit: number };
  readonly samples: readonly SampleChoice[];
  /** Null where the answer to `data` says everything itself (data interchange format). */
  readonly preamble: PreambleForm | null;
  readonly data: string;
  readonly coupling: { readonly ask: string; readonly answers: Readonly<Record<string, Coupling>> } | null;
  readonly attenuation: { readonly ask: string; readonly set: string } | null;
}

const SHIPPED = [tenField, traceDif];

/** The names of the dialects that come with the program. */
export const DIALECT_NAMES: readonly string[] = SHIPPED.map(({ dialect }) => dialect);

/** A dialect by its name, or as the bench file has it written out; null when it is neither. */
export function dialectFrom(written: unknown): Dialect | null {
  const found: unknown =
    typeof written === 'string' ? SHIPPED.find((each) => each.dialect === written) : written;
  return isDialect(found) ? found : null;
}

/** What is wrong with a dialect as written, each with its key. Empty when it can be used. */
export function dialectProblems(written: unknown): readonly OptionProblem[] {
  if (typeof written === 'string') {
    if (DIALECT_NAMES.includes(written)) return [];
    return [
      { key: 'dialect', found: written, allowed: `${DIALECT_NAMES.join(', ')} or a dialect written out` },
    ];
  }
  if (!isRecord(written)) {
    return [
      { key: 'dialect', found: written, allowed: `${DIALECT_NAMES.join(', ')} or a dialect written out` },
    ];
  }
  return Object.entries(RULES).flatMap(([key, { allowed, accepts }]) =>
    accepts(written[key]) ? [] : [{ key: `dialect.${key}`, found: written[key], allowed }],
  );
}

function isDialect(value: unknown): value is Dialect {
  return isRecord(value) && Object.entries(RULES).every(([key, { accepts }]) => accepts(value[key]));
}

const COUPLINGS: readonly unknown[] = ['dc', 'ac', 'ground', 'unknown'];
const FORMULAS: readonly unknown[] = ['reference-scale-origin', 'origin-reference-scale'];
const NEEDED_FIELDS = ['points', 'xincrement', 'xorigin', 'yincrement', 'yorigin', 'yreference'];

const RULES: Readonly<Record<keyof Dialect, { allowed: string; accepts: (value: unknown) => boolean }>> = {
  dialect: { allowed: 'a name', accepts: isText },
  about: { allowed: 'one line that says which scopes speak it', accepts: isText },
  setup: { allowed: 'a list of commands', accepts: areCommands },
  input: { allowed: 'a list of commands', accepts: areCommands },
  start: { allowed: 'a list of commands', accepts: areCommands },
  abort: { allowed: 'a list of commands', accepts: areCommands },
  done: {
    allowed: 'ask (a question) and bit (0 to 15)',
    accepts: (value) => isRecord(value) && isQuestion(value['ask']) && isWholeUpTo(value['bit'], 15),
  },
  samples: {
    allowed: 'a list with bits (8 or 16), signed, byteOrder (big or little) and setup',
    accepts: (value) => Array.isArray(value) && value.length > 0 && value.every(isSampleChoice),
  },
  preamble: {
    allowed: `null, or ask, fields (with ${NEEDED_FIELDS.join(', ')}), formats, types and formula`,
    accepts: (value) => value === null || isPreambleForm(value),
  },
  data: { allowed: 'a question', accepts: isQuestion },
  coupling: {
    allowed: 'null, or ask (a question) and answers (each dc, ac, ground or unknown)',
    accepts: (value) =>
      value === null ||
      (isRecord(value) &&
        isQuestion(value['ask']) &&
        isRecord(value['answers']) &&
        Object.values(value['answers']).every((each) => COUPLINGS.includes(each))),
  },
  attenuation: {
    allowed: 'null, or ask (a question) and set (a command with {attenuation})',
    accepts: (value) =>
      value === null || (isRecord(value) && isQuestion(value['ask']) && areCommands([value['set']])),
  },
};

function isSampleChoice(value: unknown): boolean {
  return (
    isRecord(value) &&
    (value['bits'] === 8 || value['bits'] === 16) &&
    typeof value['signed'] === 'boolean' &&
    (value['byteOrder'] === 'big' || value['byteOrder'] === 'little') &&
    areCommands(value['setup'])
  );
}

function isPreambleForm(value: unknown): boolean {
  if (!isRecord(value)) return false;
  const { ask, fields, formats, types, formula } = value;
  return (
    isQuestion(ask) &&
    Array.isArray(fields) &&
    fields.every(isText) &&
    NEEDED_FIELDS.every((needed) => fields.includes(needed)) &&
    isRecord(formats) &&
    Object.values(formats).every((bits) => bits === 8 || bits === 16) &&
    Array.isArray(types) &&
    types.every((type) => typeof type === 'number') &&
    FORMULAS.includes(formula)
  );
}

function isText(value: unknown): boolean {
  return typeof value === 'string' && /^[\x20-\x7e]{1,200}$/.test(value);
}

function areCommands(value: unknown): boolean {
  return (
    Array.isArray(value) && value.length <= 16 && value.every((each) => isText(each) && !isQuestion(each))
  );
}

function isQuestion(value: unknown): boolean {
  return typeof value === 'string' && isText(value) && /^[^?;]+\?[^?;]*$/.test(value);
}

function isWholeUpTo(value: unknown, most: number): boolean {
  return Number.isInteger(value) && Number(value) >= 0 && Number(value) <= most;
}
