import type { FaultTeller } from '../fault-teller.js';
import type { DecimalMark } from '../lines/number-reader.js';
import { CellReader } from './cell.js';
import type { WantedField } from './fields.js';
import type { GiveReading, LineForm } from './line-form.js';
import { PlainRow } from './plain-row.js';

export const SEPARATORS = { comma: ',', semicolon: ';', tab: '\t' } as const;
export type SeparatorWord = keyof typeof SEPARATORS;

export interface CsvSettings {
  readonly separator: SeparatorWord;
  readonly decimal: DecimalMark;
  /** The header line of a device that prints it once, long before anybody listens; null: it prints one. */
  readonly header: string | null;
}

interface Column {
  readonly at: number;
  readonly field: WantedField;
}

interface Header {
  readonly cells: number;
  readonly columns: readonly Column[];
  readonly plain: PlainRow;
}

const DECODER = new TextDecoder();
const MOST_QUOTED = 200;

/** Lines of a table (RFC 4180, one record a line) whose first line names the columns. */
export function csvForm(
  fields: readonly WantedField[],
  settings: CsvSettings,
  faults: FaultTeller,
  give: GiveReading,
): LineForm {
  const cells = new CellReader(settings.decimal);
  const separator = SEPARATORS[settings.separator];
  let header =
    settings.header === null ? null : headerOf(cellsOf(settings.header, separator), fields, settings);

  function refuse(why: string, text: string): void {
    faults.count('not-understood', why, text.slice(0, MOST_QUOTED));
  }

  /** All cells or none: a line with one bad cell may be two lines run together. */
  function read(row: readonly string[], { columns }: Header, text: string, atMs: number): void {
    const found = columns.map(({ at, field }) => cells.read(row[at] ?? '', field.spec.measures, field.power));
    const bad = columns[found.indexOf(null)];
    if (bad !== undefined) return refuse(`the column ${bad.field.title} holds no number`, text);
    columns.forEach(({ field }, index) => {
      const cell = found[index];
      if (cell) give(field.make(cell.value, cell.mark, atMs));
    });
  }

  return {
    wantsFirst: true, // a board that starts when the port opens prints its header at once
    take(line, atMs, isFirst) {
      if (!isFirst && header !== null && header.plain.read(line)) {
        header.columns.forEach(({ field }, index) =>
          give(field.make(header?.plain.values[index] ?? NaN, null, atMs)),
        );
        return;
      }
      const text = DECODER.decode(line).trim();
      if (text === '') return;
      const row = cellsOf(text, separator);
      const newHeader = headerOf(row, fields, settings);
      if (newHeader !== null) header = newHeader;
      else if (isFirst) return;
      else if (header === null) refuse(`a line before any header with ${titlesOf(fields)}`, text);
      else if (row.length !== header.cells)
        refuse(`a line of ${row.length} cells under a header of ${header.cells}`, text);
      else read(row, header, text, atMs);
    },
  };
}

/** Where each field's column is; null unless the row has the titles of all of them. */
function headerOf(
  row: readonly string[],
  fields: readonly WantedField[],
  settings: CsvSettings,
): Header | null {
  const columns = fields.map((field) => ({ at: row.indexOf(field.title), field }));
  const isHeader = columns.length > 0 && columns.every(({ at }) => at >= 0);
  if (!isHeader) return null;
  const wanted = columns.map(({ at, field }) => ({ at, power: field.power }));
  const separator = SEPARATORS[settings.separator].charCodeAt(0);
  return { cells: row.length, columns, plain: new PlainRow(row.length, wanted, separator, settings.decimal) };
}

function titlesOf(fields: readonly WantedField[]): string {
  return fields.map(({ title }) => title).join(', ');
}

/** The cells of one record, quotes taken off and blanks around them too. */
export function cellsOf(text: string, separator: string): readonly string[] {
  if (!text.includes('"')) return text.split(separator).map((cell) => cell.trim());
  const cells: string[] = [];
  let cell = '';
  let isQuoted = false;
  for (let at = 0; at < text.length; at += 1) {
    const character = text.charAt(at);
    if (isQuoted && character === '"' && text.charAt(at + 1) === '"') {
      cell += '"';
      at += 1;
    } else if (character === '"') isQuoted = !isQuoted;
    else if (character === separator && !isQuoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += character;
  }
  return [...cells, cell.trim()];
}
