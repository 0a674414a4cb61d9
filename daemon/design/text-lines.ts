/** Where the line begins in which a character stands. */
export function lineStartAt(text: string, at: number): number {
  return text.lastIndexOf('\n', at - 1) + 1;
}

/** Where the line ends in which a character stands, its line end left out. */
export function lineEndAfter(text: string, at: number): number {
  const inside = at > 0 && text[at - 1] === '\n' ? at - 1 : at;
  const end = text.indexOf('\n', inside);
  if (end < 0) return text.length;
  return text[end - 1] === '\r' ? end - 1 : end;
}

/** Where the lines begin that belong to a key: remarks right above it, and its own. */
export function firstOnLine(text: string, at: number): number {
  let start = lineStartAt(text, at);
  while (start > 0) {
    const above = lineStartAt(text, start - 1);
    if (!/^\s*#/.test(text.slice(above, start))) break;
    start = above;
  }
  return start;
}

/** An entry of one or more lines, moved in to a column. */
export function blockEntry(entry: string, column: number, text: string): string {
  const lineEnd = text.includes('\r\n') ? '\r\n' : '\n';
  return entry
    .split('\n')
    .map((line) => (line === '' ? line : `${' '.repeat(column)}${line}`))
    .join(lineEnd);
}
