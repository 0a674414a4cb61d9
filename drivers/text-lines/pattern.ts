import type { Measurand } from '../driver.js';
import type { DecimalMark } from '../lines/number-reader.js';
import { measurandOfUnit, unitWordAt } from '../lines/unit-words.js';

/** One piece of a pattern, in the order of the line. */
export type PatternPart =
  | { readonly kind: 'text'; readonly text: string }
  /** Any number of blanks; at least one if `required`. */
  | { readonly kind: 'blanks'; readonly required: boolean }
  /** Anything at all, as far as the text behind it, or to the next blank, or to the line's end. */
  | { readonly kind: 'skip' }
  | {
      readonly kind: 'number';
      readonly name: string;
      /** The unit word after it or in its braces, empty when there is none, and what it says is measured. */
      readonly unit: string;
      readonly measures: Measurand | undefined;
      /** Whether the line has the unit behind the number; otherwise it only tells what a bare number is. */
      readonly isPrinted: boolean;
    };

export type NumberPart = Extract<PatternPart, { kind: 'number' }>;

export interface Pattern {
  readonly source: string;
  readonly parts: readonly PatternPart[];
}

/** What is wrong with a pattern, in words, with the cure. */
export class PatternProblem extends Error {
  override readonly name = 'PatternProblem';
}

const LONGEST_PATTERN = 500;
const MOST_NUMBERS = 32;
const NAME = /^[A-Za-z][A-Za-z0-9._-]{0,63}$/;
const OTHER_DEGREES: ReadonlySet<string> = new Set(['F', 'degF', '\u00b0F', '\u00baF', '\u2109', 'K']);
/** Characters that could be taken for a piece of the number beside them. */
const NUMBER_CHARACTER = /[0-9.+-]/;
/** The placeholder for what changes from line to line and doesn't matter, such as the time of day. */
const SKIP = new Set(['...', '\u2026']);
/** What makes a longer unit of the one before it: `C/min` is no temperature. */
const PART_OF_UNIT = /[/*^\u00b2\u00b7]/;
const BLANK = /\s/;

/**
 * Reads a pattern in plain words, such as `T1: {lamps.case} C`. `{name}` stands for a number, a unit word after it
 * says what is measured, `{name mV}` for a number that is printed without its unit, `{...}` for anything that is to be skipped, blanks match any blanks, everything else matches
 * itself.
 * @throws PatternProblem
 */
export function parsePattern(source: string, decimal: DecimalMark = 'point'): Pattern {
  if (source.length > LONGEST_PATTERN) {
    throw new PatternProblem(`is ${source.length} characters long; up to ${LONGEST_PATTERN} are allowed`);
  }
  const parts = withRequiredBlanks(splitParts(source));
  const names = parts.flatMap((part) => (part.kind === 'number' ? [part.name] : []));
  checkNames(names);
  checkNeighbours(parts, decimal);
  return { source, parts };
}

function splitParts(source: string): PatternPart[] {
  const parts: PatternPart[] = [];
  for (let at = 0; at < source.length;) {
    const isBlank = BLANK.test(source.charAt(at));
    const end = isBlank ? endOfRun(source, at, true) : endOfPiece(source, at);
    const piece = source.slice(at, end);
    at = end;
    if (isBlank) parts.push({ kind: 'blanks', required: false });
    else if (!piece.startsWith('{')) parts.push({ kind: 'text', text: piece });
    else if (SKIP.has(piece.slice(1, -1).trim())) parts.push({ kind: 'skip' });
    else {
      const [name = '', ...words] = piece.slice(1, -1).trim().split(/\s+/);
      const { end: unitEnd, ...unit } = words.length > 0 ? unitWithin(words, end) : unitAfter(source, end);
      parts.push({ kind: 'number', name, ...unit });
      at = unitEnd;
    }
  }
  return parts;
}

function endOfPiece(source: string, from: number): number {
  if (source.charAt(from) === '}') throw new PatternProblem('has a } without a { before it');
  if (source.charAt(from) !== '{') return endOfRun(source, from, false);
  const close = source.indexOf('}', from);
  if (close < 0) throw new PatternProblem(`has a { without a } after it: ${source.slice(from)}`);
  return close + 1;
}

/** The end of a run of blanks, or of characters that are neither blanks nor braces. */
function endOfRun(source: string, from: number, blanks: boolean): number {
  let at = from;
  while (at < source.length) {
    const character = source.charAt(at);
    if (BLANK.test(character) !== blanks || character === '{' || character === '}') break;
    at += 1;
  }
  return at;
}

interface UnitFound extends Pick<NumberPart, 'unit' | 'measures' | 'isPrinted'> {
  readonly end: number;
}

/** The unit in a placeholder's braces, `mV` or `mV AC`. */
function unitWithin([unit = '', ...rest]: readonly string[], end: number): UnitFound {
  refuseOtherDegrees(unit);
  const measures = measurandOfUnit(unit);
  const isAc = /^ac$/i.test(rest[0] ?? '');
  if (measures === undefined || rest.length > (isAc ? 1 : 0)) {
    const found = [unit, ...rest].join(' ');
    throw new PatternProblem(`has "${found}" behind a name; write a unit there, such as mV, A, C or V AC`);
  }
  return { unit, measures: isAc ? alternating(measures) : measures, isPrinted: false, end };
}

/** Takes the unit word behind a placeholder; an `AC` behind a plain `V` or `A` changes what it says. */
function unitAfter(source: string, from: number): UnitFound {
  let at = from;
  while (BLANK.test(source.charAt(at))) at += 1;
  const unit = unitWordAt(source, at);
  const end = at + unit.length;
  refuseOtherDegrees(unit);
  const measures = PART_OF_UNIT.test(source.charAt(end)) ? undefined : measurandOfUnit(unit);
  if (measures === undefined) return { unit: '', measures, isPrinted: false, end: from };
  const isAc = /^\s*(AC|ac)\b/.test(source.slice(end));
  return { unit, measures: isAc ? alternating(measures) : measures, isPrinted: true, end };
}

function refuseOtherDegrees(unit: string): void {
  if (OTHER_DEGREES.has(unit)) {
    throw new PatternProblem(`has the unit ${unit}; set the board to print degrees C and write C`);
  }
}

function alternating(measures: Measurand): Measurand {
  if (measures === 'dc-volts') return 'ac-volts';
  return measures === 'dc-amps' ? 'ac-amps' : measures;
}

/**
 * A blank may be missing in the line unless its neighbours would then run together: two words, or two pieces that
 * could be one number.
 */
function withRequiredBlanks(parts: readonly PatternPart[]): PatternPart[] {
  return parts.map((part, index) => {
    if (part.kind !== 'blanks') return part;
    return { kind: 'blanks', required: runTogether(parts[index - 1], parts[index + 1]) };
  });
}

function runTogether(before: PatternPart | undefined, after: PatternPart | undefined): boolean {
  if (before === undefined || after === undefined) return false;
  const left = edge(before, 'end');
  const right = edge(after, 'start');
  if (left === 'mark' || right === 'mark') return false;
  if (before.kind === 'skip' || after.kind === 'skip') return true;
  return left === right || (before.kind === 'text' && after.kind === 'text');
}

type Edge = 'letter' | 'number' | 'mark';

function edge(part: PatternPart, side: 'start' | 'end'): Edge {
  if (part.kind === 'number') return side === 'end' && part.isPrinted ? 'letter' : 'number';
  if (part.kind === 'blanks') return 'mark';
  if (part.kind === 'skip') return 'number';
  const character = side === 'start' ? part.text.charAt(0) : part.text.slice(-1);
  if (NUMBER_CHARACTER.test(character)) return 'number';
  return /\p{L}/u.test(character) ? 'letter' : 'mark';
}

function checkNames(names: readonly string[]): void {
  if (names.length === 0) throw new PatternProblem('has no {name}; write one where the number stands');
  if (names.length > MOST_NUMBERS) {
    throw new PatternProblem(`has ${names.length} names; up to ${MOST_NUMBERS} are allowed`);
  }
  for (const [index, name] of names.entries()) {
    if (!NAME.test(name)) {
      throw new PatternProblem(`has the name {${name}}; write letters, digits, dots and hyphens`);
    }
    if (names.indexOf(name) !== index)
      throw new PatternProblem(`has {${name}} twice; give each its own name`);
  }
}

/** What touches a number must not look like a piece of it. */
function checkNeighbours(parts: readonly PatternPart[], decimal: DecimalMark): void {
  for (const [index, part] of parts.entries()) {
    const next = parts[index + 1];
    if (next === undefined) continue;
    const touching = part.kind === 'number' || next.kind === 'number' || part.kind === next.kind;
    const exponentLike = part.kind === 'number' && next.kind === 'text' && /^[eE][0-9+-]/.test(next.text);
    const joined = decimal === 'comma' && joinedByComma(part, next, parts[index + 2]);
    const alike = touching && edge(part, 'end') === 'number' && edge(next, 'start') === 'number';
    if (exponentLike || joined || alike) {
      throw new PatternProblem(
        `has ${shown(part)} right before ${shown(next)}, and they could be read as one number; put a blank or a mark between`,
      );
    }
  }
}

/** Whether a comma stands right between a number and something that could be its decimals. */
function joinedByComma(part: PatternPart, next: PatternPart, afterNext: PatternPart | undefined): boolean {
  if (edge(part, 'end') !== 'number' || next.kind !== 'text' || !next.text.startsWith(',')) return false;
  return next.text === ',' ? afterNext?.kind === 'number' : /^,[0-9]/.test(next.text);
}

function shown(part: PatternPart): string {
  if (part.kind === 'number') return `{${part.name}}`;
  if (part.kind === 'skip') return '{...}';
  return part.kind === 'text' ? part.text : 'a blank';
}
