import { normalCumulative } from '../../predict/cloud/normal-distribution.js';

/** Normal distributions side by side. */
export interface MixturePart {
  /** Of any sum. */
  readonly share: number;
  readonly mean: number;
  readonly variance: number;
}

const HALVINGS = 50;
/** Beyond this nothing of a part is left. */
const FURTHEST_DEVIATIONS = 8;

/** The value below which this share (0 to 1) of the mixture lies. */
export function mixtureQuantile(parts: readonly MixturePart[], share: number): number {
  const total = parts.reduce((sum, part) => sum + part.share, 0);
  let low = Infinity;
  let high = -Infinity;
  for (const { mean, variance } of parts) {
    low = Math.min(low, mean - FURTHEST_DEVIATIONS * Math.sqrt(variance));
    high = Math.max(high, mean + FURTHEST_DEVIATIONS * Math.sqrt(variance));
  }
  for (let halving = 0; halving < HALVINGS; halving += 1) {
    const middle = (low + high) / 2;
    if (below(parts, middle) < share * total) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function below(parts: readonly MixturePart[], value: number): number {
  return parts.reduce((sum, { share, mean, variance }) => {
    if (variance === 0) return value < mean ? sum : sum + share;
    return sum + share * normalCumulative((value - mean) / Math.sqrt(variance));
  }, 0);
}

/** Natural logarithm of the mixture's density; stays finite however far off the value is. */
export function mixtureLogDensity(parts: readonly MixturePart[], value: number): number {
  const total = parts.reduce((sum, { share }) => sum + share, 0);
  return logOfSum(
    parts.map(
      ({ share, mean, variance }) => Math.log(share / total) + normalLogDensity(value - mean, variance),
    ),
  );
}

/** Of a normal distribution so far off its mean. */
export function normalLogDensity(off: number, variance: number): number {
  return -((off * off) / variance + Math.log(2 * Math.PI * variance)) / 2;
}

/** Natural logarithm of a sum whose terms are given as logarithms. */
export function logOfSum(logs: readonly number[]): number {
  const largest = Math.max(...logs);
  return largest + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - largest), 0));
}
