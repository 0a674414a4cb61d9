/** About half a page. */
const SHORT_ROWS = 12;

/** A table that is kept whole on paper, or one that goes on on the next page with its head repeated. */
export function lengthClass(rows: readonly unknown[]): 'short' | 'long' {
  return rows.length <= SHORT_ROWS ? 'short' : 'long';
}
