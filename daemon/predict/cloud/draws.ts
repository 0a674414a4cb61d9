import type { Spread } from '../../design/parts/spread.js';
import { inverseNormal } from './normal-distribution.js';
import { fillSobol } from './sobol.js';

/** The share of a normal distribution's standard deviations that ends at 95 %. */
const SIGMAS_AT_95_PERCENT = inverseNormal(0.975);
/** Makers sort out what lies further off. */
const FURTHEST_SIGMAS = 3;

/**
 * Draws of one uncertain value: half of a normal distribution on each side of the typical value, so that 2.5 % lie
 * below `low` and 2.5 % above `high` (two-piece normal; Wallis, Statistical Science 29 (2014) 106-112). Cut off at
 * three standard deviations, and at zero where `low` isn't below it.
 * @param dimension which of the sequence's dimensions: one for each value
 */
export function drawSpread(column: Float64Array, spread: Spread, dimension: number, seed: number): void {
  const { low, typical, high } = spread;
  if (low === typical && high === typical) {
    column.fill(typical);
    return;
  }
  fillSobol(column, dimension, seed);
  const floor = low >= 0 ? 0 : -Infinity;
  for (let draw = 0; draw < column.length; draw += 1) {
    const normal = inverseNormal(column[draw]!);
    const sigmas = Math.max(-FURTHEST_SIGMAS, Math.min(FURTHEST_SIGMAS, normal)) / SIGMAS_AT_95_PERCENT;
    column[draw] = Math.max(floor, typical + sigmas * (sigmas < 0 ? typical - low : high - typical));
  }
}
