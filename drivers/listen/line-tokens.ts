import { measurandOfUnit, unitWordAt } from '../lines/unit-words.js';

/** A piece of a printed line. `mark` is one character that is neither a letter, a digit nor a blank. */
export interface Token {
  readonly kind: 'number' | 'time' | 'word' | 'mark' | 'blank';
  readonly text: string;
  /** The unit word behind a number; empty when there is none. */
  readonly unit: string;
}

/** ISO 8601 dates and times of day, with a decimal mark of either kind. */
const TIME =
  /\d{4}-\d\d-\d\d(?:[T ]\d\d:\d\d(?::\d\d(?:[.,]\d+)?)?(?:Z|[+-]\d\d:?\d\d)?)?|\d{1,2}:\d\d(?::\d\d(?:[.,]\d+)?)?/y;
const NUMBER_WITH_POINT = /[+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d{1,3})?(?![\p{N}])/uy;
const NUMBER_WITH_COMMA = /[+-]?\d+(?:,\d+)?(?:[eE][+-]?\d{1,3})?(?![\p{N}])/uy;
/** What stands where a number can't be shown. */
const NO_NUMBER = /[+-]?(?:O\.?L|OVLD|OVERLOAD|OVF|INF|NAN|N\/A|OPEN)(?![\p{L}\p{N}_])|-{2,}(?:\.-+)?/iuy;
const WORD = /[\p{L}_][\p{L}\p{N}_]*/uy;
const BLANK = /\s+/y;

/** A line cut into pieces; put together again they are the line. */
export function tokensOf(line: string, decimal: 'point' | 'comma' = 'point'): readonly Token[] {
  const tokens: Token[] = [];
  const number = decimal === 'comma' ? NUMBER_WITH_COMMA : NUMBER_WITH_POINT;
  for (let at = 0; at < line.length;) {
    const token = tokenAt(line, at, number);
    tokens.push(token);
    at += token.text.length;
  }
  return tokens;
}

function tokenAt(line: string, at: number, number: RegExp): Token {
  const plain = (kind: Token['kind'], text: string): Token => ({ kind, text, unit: '' });
  const blank = matchAt(BLANK, line, at);
  if (blank !== null) return plain('blank', blank);
  const time = matchAt(TIME, line, at);
  if (time !== null) return plain('time', time);
  const digits = matchAt(number, line, at) ?? matchAt(NO_NUMBER, line, at);
  if (digits !== null) {
    const unit = unitBehind(line, at + digits.length);
    return { kind: 'number', text: digits + unit.text, unit: unit.word };
  }
  const word = matchAt(WORD, line, at);
  return word === null ? plain('mark', String.fromCodePoint(line.codePointAt(at) ?? 0)) : plain('word', word);
}

/** The unit behind a number, blanks before it counted in; a word with a colon or equals sign is the next label. */
function unitBehind(line: string, from: number): { readonly text: string; readonly word: string } {
  const blanks = matchAt(BLANK, line, from) ?? '';
  const word = unitWordAt(line, from + blanks.length);
  const next = line.slice(from + blanks.length + word.length);
  const isUnit = measurandOfUnit(word) !== undefined && !/^(\s*[:=]|[\p{L}\p{N}/*^])/u.test(next);
  return isUnit ? { text: blanks + word, word } : { text: '', word: '' };
}

function matchAt(pattern: RegExp, line: string, at: number): string | null {
  pattern.lastIndex = at;
  return pattern.exec(line)?.[0] ?? null;
}
