import { measurandOfUnit } from '../lines/unit-words.js';
import { cellsOf, SEPARATORS, type SeparatorWord } from '../text-lines/csv-form.js';
import { guessFromLabel, isBookkeeping, Namer } from './label-words.js';
import { tokensOf, type Token } from './line-tokens.js';
import { UNSURE, UNSURE_UNIT, type LineProposal, type ProposedNumber } from './proposal.js';

/** A comma last: with another separator it may be the decimal mark. */
const IN_TURN: readonly SeparatorWord[] = ['tab', 'semicolon', 'comma'];
const MOST_FIELDS = 32;

interface Table {
  readonly separator: SeparatorWord;
  readonly decimal: 'point' | 'comma';
  readonly rows: readonly (readonly string[])[];
  /** As the board printed it; null when it was not heard. */
  readonly header: readonly string[] | null;
}

/** For lines that are rows of a table; null when they aren't. `first` may be a header, and may be a piece of a line. */
export function proposeTable(first: string, lines: readonly string[]): LineProposal | null {
  const table = IN_TURN.map((separator) => tableOf(separator, [first, ...lines], lines)).find(
    (found) => found !== null,
  );
  return table ? proposalOf(table) : null;
}

function tableOf(separator: SeparatorWord, all: readonly string[], whole: readonly string[]): Table | null {
  const cut = (line: string) => cellsOf(line.trim(), SEPARATORS[separator]);
  const width = cut(whole.at(-1) ?? '').length;
  if (width < 2) return null;
  const cells = whole.map(cut).filter((row) => row.length === width);
  const decimal =
    separator !== 'comma' && cells.flat().some((cell) => /^[+-]?\d+,\d+\b/.test(cell)) ? 'comma' : 'point';
  const rows = cells.filter((row) => row.some((cell) => numberIn(cell, decimal) !== null));
  if (rows.length === 0 || rows.length < whole.length / 2) return null;
  const isPlain = rows.every((row) =>
    row.every((cell) => numberIn(cell, decimal) !== null || !/\d/.test(cell) || isTime(cell)),
  );
  if (!isPlain) return null;
  const header = all.map(cut).find((row) => isHeader(row, width, decimal)) ?? null;
  return { separator, decimal, rows, header };
}

/** Titles: no numbers, none empty, each once. */
function isHeader(row: readonly string[], width: number, decimal: Table['decimal']): boolean {
  return (
    row.length === width &&
    new Set(row).size === width &&
    row.every((cell) => /\p{L}/u.test(cell) && numberIn(cell, decimal) === null)
  );
}

/** Null also for a table whose header wasn't heard and whose cells have units: a pattern says more of those. */
function proposalOf({ separator, decimal, rows, header }: Table): LineProposal | null {
  const columns = rows[0]?.map((_, at) => rows.map((row) => numberIn(row[at] ?? '', decimal))) ?? [];
  const units = columns.map((column) => column.find((token) => token?.unit)?.unit ?? '');
  if (header === null && units.some((unit) => unit !== '')) return null;
  const titles = header ?? columns.map((_, at) => `column${at + 1}`);
  const namer = new Namer();
  const fields: Record<string, string> = {};
  const numbers: ProposedNumber[] = [];
  columns.forEach((column, at) => {
    const title = titles[at] ?? '';
    const isCounter = header === null && isRising(column);
    if (column.some((token) => token === null) || isBookkeeping(title) || isCounter) return;
    if (numbers.length === MOST_FIELDS) return;
    const guess = guessFromLabel(title);
    const unit = units[at] || guess?.unit || UNSURE_UNIT;
    const name = namer.name(title, 'value');
    fields[title] = `{${name}} ${unit}`;
    const measures = measurandOfUnit(unit) ?? UNSURE;
    numbers.push({ name, measures, isSure: units[at] !== '' || guess !== undefined });
  });
  if (numbers.length === 0) return null;
  const mark = SEPARATORS[separator];
  return {
    options: {
      format: 'csv',
      ...(separator !== 'comma' && { separator }),
      ...(decimal === 'comma' && { decimal }),
      header: titles.join(mark),
      fields,
    },
    numbers,
  };
}

/** Whole numbers of which each is more than the one before: a counter, or the time. */
export function isRising(column: readonly (Token | null)[]): boolean {
  const values = column.map((token) =>
    token !== null && /^\d+$/.test(token.text) ? Number(token.text) : NaN,
  );
  return values.length > 2 && values.every((value, at) => at === 0 || value > (values[at - 1] ?? NaN));
}

/** The one number of a cell; null when it holds anything else. An empty cell is a sensor that gave nothing. */
function numberIn(cell: string, decimal: Table['decimal']): Token | null {
  if (cell === '') return { kind: 'number', text: '', unit: '' };
  const [token, ...others] = tokensOf(cell, decimal);
  return token?.kind === 'number' && others.length === 0 ? token : null;
}

function isTime(cell: string): boolean {
  const tokens = tokensOf(cell);
  return tokens.length === 1 && tokens[0]?.kind === 'time';
}
