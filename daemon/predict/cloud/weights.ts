/** How much each draw of a cloud counts. */
export interface Weights {
  /** Not negative; they sum to 1. */
  readonly shares: Float64Array;
  /** Natural logarithms of the shares, but for a common constant; these never run out of range. */
  readonly logs: Float64Array;
  /** How many equal draws say as much: (sum w)^2 / sum w^2 (Kong 1992). */
  readonly effectiveSampleSize: number;
}

/** Weights from their logarithms, which need be right up to a common constant only. */
export function weightsOf(logs: Float64Array): Weights {
  let largest = -Infinity;
  for (const log of logs) if (log > largest) largest = log;
  const shares = new Float64Array(logs.length);
  let sum = 0;
  for (let draw = 0; draw < logs.length; draw += 1) {
    shares[draw] = largest === -Infinity ? 1 : Math.exp(logs[draw]! - largest);
    sum += shares[draw]!;
  }
  let squares = 0;
  for (let draw = 0; draw < logs.length; draw += 1) {
    shares[draw]! /= sum;
    squares += shares[draw]! ** 2;
  }
  return { shares, logs, effectiveSampleSize: 1 / squares };
}

/**
 * Lets a measured value count: each draw's weight times the probability density of the measurement around the draw's
 * own result (Bayes' theorem with a normal likelihood, JCGM 106:2012, clause 6).
 * @param results the draws' results, in the measurement's unit
 * @param standardUncertainty of the measurement and of what the model leaves out, above 0
 */
export function reweigh(
  before: Weights,
  results: Float64Array,
  value: number,
  standardUncertainty: number,
): Weights {
  const logs = new Float64Array(results.length);
  for (let draw = 0; draw < logs.length; draw += 1) {
    const off = (results[draw]! - value) / standardUncertainty;
    logs[draw] = before.logs[draw]! - (off * off) / 2;
  }
  return weightsOf(logs);
}
