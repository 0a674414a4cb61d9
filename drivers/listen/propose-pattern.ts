import { measurandOfUnit } from '../lines/unit-words.js';
import { guessFromLabel, isBookkeeping, Namer } from './label-words.js';
import { tokensOf, type Token } from './line-tokens.js';
import { PLAIN_NAMES, UNSURE, UNSURE_UNIT, type LineProposal, type ProposedNumber } from './proposal.js';
import { isRising } from './propose-table.js';

type Decimal = 'point' | 'comma';

const MOST_PATTERNS = 16;
const MOST_NUMBERS = 32;
const MOST_WORDS_OF_LABEL = 3;

/** For lines with numbers among words; null when none has a number. */
export function proposePattern(lines: readonly string[]): LineProposal | null {
  const decimal = decimalOf(lines);
  const groups = new Map<string, (readonly Token[])[]>();
  for (const line of lines) {
    const tokens = trimmed(tokensOf(line.trim(), decimal));
    const shape = shapeOf(tokens);
    const group = groups.get(shape);
    if (group === undefined) groups.set(shape, [tokens]);
    else group.push(tokens);
  }
  const namer = new Namer();
  const found = [...groups.values()]
    .sort((a, b) => b.length - a.length)
    .map((group) => patternOf(group, namer))
    .filter(({ numbers }) => numbers.length > 0)
    .slice(0, MOST_PATTERNS);
  const [first, ...others] = found.map(({ pattern }) => pattern);
  if (first === undefined) return null;
  return {
    options: {
      ...(others.length === 0 ? { pattern: first } : { patterns: [first, ...others] }),
      ...(decimal === 'comma' && { decimal }),
    },
    numbers: found.flatMap(({ numbers }) => numbers),
  };
}

/** Commas between digits without a blank behind them, and no number with a point. */
function decimalOf(lines: readonly string[]): Decimal {
  const text = lines.join('\n').replace(/(?<!\d)\d+:\d\d(:\d\d)?([.,]\d+)?/g, '');
  return /\d,\d/.test(text) && !/\d\.\d/.test(text) ? 'comma' : 'point';
}

/** Without the unit-like rest of blanks at the end. */
function trimmed(tokens: readonly Token[]): readonly Token[] {
  return tokens.at(-1)?.kind === 'blank' ? tokens.slice(0, -1) : tokens;
}

/** Lines of one shape are read by one pattern. Words up to the last number are labels, those behind it may change. */
function shapeOf(tokens: readonly Token[]): string {
  const last = tokens.findLastIndex(({ kind }) => kind === 'number');
  return tokens
    .map(({ kind, text }, at) => (kind === 'mark' || (kind === 'word' && at < last) ? text : kind))
    .join('\0');
}

interface Found {
  readonly pattern: string;
  readonly numbers: readonly ProposedNumber[];
}

function patternOf(group: readonly (readonly Token[])[], namer: Namer): Found {
  const [line = []] = group;
  const numbers: ProposedNumber[] = [];
  /** Numbers that belong to a label, as in `CH 1:`. */
  const fixed = new Set<Token>();
  const pieces = line.map((token, at) => {
    const column = group.map((tokens) => tokens[at] ?? token);
    const isConstant = column.every(({ text }) => text === token.text);
    if (token.kind === 'number') return numberPiece(token, at, column, isConstant);
    if (token.kind === 'blank') return ' ';
    return token.kind === 'time' || !isConstant || /[{}]/.test(token.text) ? SKIP : token.text;
  });
  return { pattern: pieces.join(''), numbers };

  function numberPiece(token: Token, at: number, column: readonly Token[], isConstant: boolean): string {
    const label = labelBefore(line.slice(0, at), fixed);
    const guess = guessFromLabel(label.at(-1) ?? '') ?? guessFromLabel(label.join('_'));
    const printed = column.find(({ unit }) => unit !== '')?.unit ?? '';
    const isBare = printed === '' && guess === undefined;
    if (isBare && isConstant && group.length > 1 && /^\d+$/.test(token.text)) {
      fixed.add(token);
      return token.text;
    }
    if (isBare && (isRising(column) || isBookkeeping(label.at(-1) ?? ''))) return SKIP;
    if (numbers.length === MOST_NUMBERS) return SKIP;
    const unit = printed || guess?.unit || UNSURE_UNIT;
    const measures = measurandOfUnit(unit) ?? UNSURE;
    const name = namer.name(label.join('-'), isBare ? 'value' : PLAIN_NAMES[measures]);
    numbers.push({ name, measures, isSure: !isBare });
    // Where only an overload was seen, the unit may well stand behind a number.
    const hasUnit = printed !== '' || column.every(({ text }) => !/\d/.test(text));
    return hasUnit ? `{${name}} ${unit}` : `{${name} ${unit}}`;
  }
}

const SKIP = '{...}';

/** The words between a number and the one before it, at most three, and numbers that belong to them. */
function labelBefore(before: readonly Token[], fixed: ReadonlySet<Token>): readonly string[] {
  const start = before.findLastIndex(
    (token) =>
      (token.kind === 'number' && !fixed.has(token)) || token.kind === 'time' || /^[,;|]$/.test(token.text),
  );
  const words = before.slice(start + 1).filter((token) => token.kind === 'word' || fixed.has(token));
  return words.slice(-MOST_WORDS_OF_LABEL).map(({ text }) => text);
}
