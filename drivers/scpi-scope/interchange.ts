import { numberIn, type Scaling } from './preamble.js';
import type { SampleForm } from './samples.js';

/** What a reply in the data interchange format says about its block. */
export interface Interchange extends Scaling {
  readonly form: SampleForm;
  /** As written, `V` for example; null when it isn't said. */
  readonly unit: string | null;
}

/** One keyword with what belongs to it: values, or keywords in brackets. */
interface Entry {
  readonly keyword: string;
  /** What follows an equals sign: the X of DIMension=X. */
  readonly label: string | null;
  readonly values: readonly string[];
  readonly inside: readonly Entry[];
}

const TOKEN = /\s*(\(|\)|=|,|"(?:[^"]|"")*"|[^\s()=,"]+)/y;
const DEEPEST = 8;
const MOST_TOKENS = 1000;

/**
 * Reads the text of a reply in the data interchange format of SCPI-1999 volume 3 (from memory): nested brackets with
 * keywords in a short or a long form. Sample i is taken at i x SCALe + OFFSet of the implicit dimension and is worth
 * sample x SCALe + OFFSet of the explicit one. The block has been replaced by `#`. Returns words for what is wrong.
 */
export function readInterchange(text: string, asked: SampleForm): Interchange | string {
  const top = entriesIn(text);
  const dif = top?.find(({ keyword }) => is(keyword, 'DIF'))?.inside;
  if (dif === undefined) return 'no data interchange format';
  const dimensions = dif.filter(({ keyword }) => is(keyword, 'DIMension'));
  const time = dimensions.find((each) => isType(each, 'IMPLicit'));
  const value = dimensions.find((each) => isType(each, 'EXPLicit'));
  if (time === undefined || value === undefined) return 'not one implicit and one explicit dimension';
  const form = formIn(dif, asked);
  if (form === null) return `samples that are not ${asked.bits}-bit whole numbers`;
  const points = numberOf(time, 'SIZE', null);
  const stepSeconds = numberOf(time, 'SCALe', 1);
  const startSeconds = numberOf(time, 'OFFSet', 0);
  const scale = numberOf(value, 'SCALe', 1);
  const offset = numberOf(value, 'OFFSet', 0);
  if (points === null || !Number.isInteger(points) || points < 1) return 'no SIZE';
  if (stepSeconds === null || stepSeconds <= 0 || startSeconds === null) return 'no time between two samples';
  if (scale === null || scale === 0 || offset === null) return 'samples that are worth nothing';
  const timeUnit = textOf(time, 'UNITs');
  if (timeUnit !== null && timeUnit.toUpperCase() !== 'S')
    return `a first dimension in ${timeUnit}, not seconds`;
  return { points, stepSeconds, startSeconds, scale, offset, form, unit: textOf(value, 'UNITs') };
}

/** How many points the text before the block promises; null when it doesn't say. */
export function pointsPromised(textBefore: string): number | null {
  const found = /\bSIZE\s+(\d{1,9})\b/i.exec(textBefore)?.[1];
  return found === undefined ? null : Number(found);
}

/** Keywords of ENCode: FORMat INT8, UINT16 and so on, BORDer NORMal (the high byte first) or SWAPped. */
function formIn(dif: readonly Entry[], asked: SampleForm): SampleForm | null {
  const encode = dif.find(({ keyword }) => is(keyword, 'ENCode'));
  if (encode === undefined) return asked;
  const format = textOf(encode, 'FORMat');
  const border = textOf(encode, 'BORDer');
  const match = /^(U?)INT(8|16)$/i.exec(format ?? '');
  if (format !== null && (match === null || Number(match[2]) !== asked.bits)) return null;
  const swapped = border === null ? null : is(border, 'SWAPped');
  return {
    bits: asked.bits,
    signed: match === null ? asked.signed : match[1] === '',
    byteOrder: swapped === null ? asked.byteOrder : swapped ? 'little' : 'big',
  };
}

function isType(dimension: Entry, type: string): boolean {
  const found = textOf(dimension, 'TYPE');
  return found !== null && is(found, type);
}

function numberOf(entry: Entry, keyword: string, otherwise: number | null): number | null {
  const text = textOf(entry, keyword);
  return text === null ? otherwise : numberIn(text);
}

function textOf(entry: Entry, wanted: string): string | null {
  const text = entry.inside.find(({ keyword }) => is(keyword, wanted))?.values[0];
  return text?.replace(/^"|"$/g, '') ?? null;
}

/** Whether a word is the keyword, in its short (the capitals) or its long form, in any case. */
function is(word: string, keyword: string): boolean {
  const upper = word.toUpperCase();
  return upper === keyword.toUpperCase() || upper === keyword.replace(/[a-z]+/g, '');
}

/** Null when the brackets don't match or there is too much of it. */
function entriesIn(text: string): readonly Entry[] | null {
  const tokens = tokensIn(text);
  if (tokens === null) return null;
  // The whole stands in brackets of its own: (DIF (VERsion ...) DIMension=X (...) ...).
  const [bracket, keyword] = tokens;
  if (bracket !== '(' || keyword === undefined) return null;
  const reader = { tokens, at: 2 };
  const inside = readList(reader, 1, keyword);
  return inside === null || reader.at !== tokens.length
    ? null
    : [{ keyword, label: null, values: [], inside }];
}

interface TokenReader {
  readonly tokens: readonly string[];
  at: number;
}

/** Entries up to and with the closing bracket. Brackets without a keyword, as DIF's version has, belong to `owner`. */
function readList(reader: TokenReader, depth: number, owner: string): readonly Entry[] | null {
  if (depth > DEEPEST) return null;
  const entries: Entry[] = [];
  for (;;) {
    const token = reader.tokens[reader.at];
    if (token === undefined || token === '=' || token === ',') return null;
    reader.at += 1;
    if (token === ')') return entries;
    const entry = token === '(' ? bracketed(reader, depth, owner) : readEntry(reader, depth, token);
    if (entry === null) return null;
    entries.push(entry);
  }
}

function bracketed(reader: TokenReader, depth: number, keyword: string): Entry | null {
  const inside = readList(reader, depth + 1, keyword);
  return inside === null ? null : { keyword, label: null, values: [], inside };
}

function readEntry(reader: TokenReader, depth: number, keyword: string): Entry | null {
  let label: string | null = null;
  if (reader.tokens[reader.at] === '=') {
    label = reader.tokens[reader.at + 1] ?? null;
    reader.at += 2;
  }
  if (reader.tokens[reader.at] === '(') {
    reader.at += 1;
    const entry = bracketed(reader, depth, keyword);
    return entry === null ? null : { ...entry, label };
  }
  const values: string[] = [];
  do {
    const value = reader.tokens[reader.at];
    if (value === undefined || value === ')' || value === '=') return null;
    values.push(value);
    reader.at += 1;
  } while (reader.tokens[reader.at] === ',' && (reader.at += 1) > 0);
  return { keyword, label, values, inside: [] };
}

function tokensIn(text: string): readonly string[] | null {
  const tokens: string[] = [];
  const whole = text.trimEnd();
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < whole.length) {
    const token = TOKEN.exec(whole)?.[1];
    if (token === undefined || tokens.length === MOST_TOKENS) return null;
    tokens.push(token);
  }
  return tokens;
}
