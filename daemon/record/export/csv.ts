/** A spreadsheet would compute these instead of showing them. */
const LOOKS_LIKE_FORMULA = /^[=+\-@\t\r]/;

export type Cell = string | number | null;

/** One line of a CSV file with its CRLF (RFC 4180). Null is an empty cell; numbers are never in a local notation. */
export function csvLine(cells: readonly Cell[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`;
}

function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const text = LOOKS_LIKE_FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
