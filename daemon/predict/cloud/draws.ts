import type { Spread } from '../../design/parts/spread.js';
import { inverseNormal } from './normal-distribution.js';
import { fillSobol } from './sobol.js';

/** The share of a normal distribution's standard deviations that ends at 95 %. */
const SIGMAS_AT_95_PERCENT = inverseNormal(0.975);
/** Makers sort out what lies further off. */
const FURTHEST_SIGMAS = 3;

/**
 * The value so many standard deviations off: half of a normal distribution on each side of the typical value, so that
 * 2.5 % lie below `low` and 2.5 % above `high` (two-piece normal; Wallis, Statistical Science 29 (2014) 106-112). Cut
 * off at three standard deviations, and at zero where `low` isn't below it.
 */
export function valueAt({ low, typical, high }: Spread, standardDeviations: number): number {
  const cut = Math.max(-FURTHEST_SIGMAS, Math.min(FURTHEST_SIGMAS, standardDeviations));
  const sigmas = cut / SIGMAS_AT_95_PERCENT;
  const value = typical + sigmas * (sigmas < 0 ? typical - low : high - typical);
  return low >= 0 ? Math.max(0, value) : value;
}

/**
 * Draws of one uncertain value through its spread, see `valueAt`.
 * @param dimension which of the sequence's dimensions: one for each value
 */
export function drawSpread(column: Float64Array, spread: Spread, dimension: number, seed: number): void {
  if (isCertain(spread)) {
    column.fill(spread.typical);
    return;
  }
  fillStandardNormal(column, dimension, seed);
  for (let draw = 0; draw < column.length; draw += 1) column[draw] = valueAt(spread, column[draw]!);
}

export function isCertain({ low, typical, high }: Spread): boolean {
  return low === typical && high === typical;
}

/** Fills a column with standard normal numbers, evenly spread as `fillSobol`'s are. */
export function fillStandardNormal(column: Float64Array, dimension: number, seed: number): void {
  fillSobol(column, dimension, seed);
  for (let draw = 0; draw < column.length; draw += 1) column[draw] = inverseNormal(column[draw]!);
}
