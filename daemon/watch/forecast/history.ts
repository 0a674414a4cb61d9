/** A block of readings. */
export interface Block {
  readonly atMs: number;
  readonly celsius: number;
  /** Of the block's mean, K². */
  readonly variance: number;
}

/** What is remembered of a warming: blocks that grow longer with their age, oldest first. Plain data. */
export interface Remembered {
  /** Of its middle, s since the warming began. */
  readonly atS: number;
  readonly celsius: number;
  /** K² */
  readonly variance: number;
  /** What of it repeats in the next block, because one count of the probe spans them, K². */
  readonly repeatedK2: number;
  /** s */
  readonly lengthS: number;
}

/** Two in a hundred of the age are a block's length then. */
const MOST = 44;

/** With one more; where there are too many, the two neighbours that span the least share of their age become one. */
export function remember(
  history: readonly Remembered[],
  block: Remembered,
  countK: number,
): readonly Remembered[] {
  const longer = [...history, block];
  if (longer.length <= MOST) return longer;
  let best = 0;
  let least = Infinity;
  for (let at = 0; at + 1 < longer.length - 2; at += 1) {
    const [one, two] = [longer[at]!, longer[at + 1]!];
    const share = (one.lengthS + two.lengthS) / (two.atS + GRACE_S);
    if (share < least) [least, best] = [share, at];
  }
  longer.splice(best, 2, joined(longer[best]!, longer[best + 1]!, countK));
  return longer;
}

/** The first seconds show how the probe lags: no shorter blocks are needed than this share of it asks for. */
const GRACE_S = 4;

function joined(one: Remembered, two: Remembered, countK: number): Remembered {
  const lengthS = one.lengthS + two.lengthS;
  const [p, q] = [one.lengthS / lengthS, two.lengthS / lengthS];
  const isApart = Math.abs(two.celsius - one.celsius) >= countK;
  return {
    atS: p * one.atS + q * two.atS,
    celsius: p * one.celsius + q * two.celsius,
    variance: p * p * one.variance + q * q * two.variance,
    repeatedK2: isApart
      ? p * p * one.repeatedK2 + q * q * two.repeatedK2
      : Math.max(one.repeatedK2, two.repeatedK2),
    lengthS,
  };
}
