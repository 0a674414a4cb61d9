/** Who is fed by whom, in an order in which what is fed follows what feeds it. */
export interface Fed {
  readonly part: string;
  readonly kind: string;
  readonly from: string | null;
}

/** A place in the map, both from 0. */
export interface Place {
  readonly column: number;
  readonly row: number;
}

/**
 * Where each part stands in a map of so many columns: a chain goes on to the right, the rails of a branching begin a
 * row, and a branch with branches of its own has its rows for itself. Reading the places row by row gives the order
 * of the parts.
 */
export function placesOf(blocks: readonly Fed[], columns: number): ReadonlyMap<string, Place> {
  const places = new Map<string, Place>();
  let next: Place = { column: 0, row: 0 };
  let isAlone = false;
  const feeds = (part: string): number => blocks.filter(({ from }) => from === part).length;
  const beginRow = (): void => {
    if (next.column > 0) next = { column: 0, row: next.row + 1 };
  };
  let before: Fed | null = null;
  for (const block of blocks) {
    const isChain = before !== null && block.from === before.part && feeds(before.part) === 1;
    const isHead = block.kind !== 'rail' || feeds(block.part) > 0;
    const isFirst = before !== null && block.from === before.part;
    if (!isChain && (isFirst || isHead || isAlone)) beginRow();
    // What comes after a branch of several parts doesn't belong to it.
    isAlone = !isChain ? isHead : isAlone;
    places.set(block.part, next);
    next =
      next.column + 1 < columns ? { ...next, column: next.column + 1 } : { column: 0, row: next.row + 1 };
    before = block;
  }
  return places;
}
