/** Readings that may belong together: what their mean, spread and straight line need, without the readings. */
export interface Stretch {
  readonly fromMs: number;
  readonly toMs: number;
  readonly count: number;
  readonly mean: number;
  /** Sum of squared distances from the mean. */
  readonly squares: number;
  /** Mean of the times since `fromMs`, their squared distances from it, and the products with the values' distances. */
  readonly meanMs: number;
  readonly squaresMs: number;
  readonly products: number;
}

export function beginStretch(atMs: number, value: number): Stretch {
  return {
    fromMs: atMs,
    toMs: atMs,
    count: 1,
    mean: value,
    squares: 0,
    meanMs: 0,
    squaresMs: 0,
    products: 0,
  };
}

/** One more reading, in one pass (Welford, Technometrics 4 (1962) 419-420). */
export function extendStretch(before: Stretch, atMs: number, value: number): Stretch {
  const count = before.count + 1;
  const ms = atMs - before.fromMs;
  const off = value - before.mean;
  const offMs = ms - before.meanMs;
  const mean = before.mean + off / count;
  const meanMs = before.meanMs + offMs / count;
  return {
    fromMs: before.fromMs,
    toMs: atMs,
    count,
    mean,
    squares: before.squares + off * (value - mean),
    meanMs,
    squaresMs: before.squaresMs + offMs * (ms - meanMs),
    products: before.products + offMs * (value - mean),
  };
}

/** Standard deviation of one reading; 0 with fewer than two. */
export function deviationOf({ count, squares }: Stretch): number {
  return count < 2 ? 0 : Math.sqrt(Math.max(0, squares) / (count - 1));
}

/** Of the least-squares line, any textbook. */
export interface Trend {
  /** How far the line goes from the first reading to the last, in the readings' unit. */
  readonly change: number;
  /** Standard deviation of that, from what the line leaves of the spread; infinite with fewer than three readings. */
  readonly deviation: number;
}

export function trendOf({ fromMs, toMs, count, squares, squaresMs, products }: Stretch): Trend {
  if (count < 3 || squaresMs === 0) return { change: 0, deviation: Infinity };
  const lengthMs = toMs - fromMs;
  const slope = products / squaresMs;
  const left = Math.max(0, squares - slope * products) / (count - 2);
  return { change: slope * lengthMs, deviation: Math.sqrt(left / squaresMs) * lengthMs };
}
