import type { PointUnit } from '../predict/prediction.js';
import { rippleFromReading } from './ripple/meter-ripple.js';

/** A reading as it was taken. */
export interface Taken {
  readonly value: number;
  readonly unit: PointUnit;
  /** Half-width of the meter's accuracy, in `unit`. */
  readonly guard: number;
}

export interface Converted {
  readonly value: number;
  readonly guard: number;
  /** What a small difference was multiplied by. */
  readonly factor: number;
}

/**
 * Of a ripple that a meter shows: the charge takes a fifth to a third of the time, so that the straight slopes are
 * rounded and the true peak-to-peak is up to a tenth under the sawtooth's (between 2·√2 and 2·√3 times the RMS).
 */
const SHAPE_SHARE = 0.1;

/**
 * A reading in the unit of its test point; null where there is no way from one to the other. A ripple that an AC range
 * shows (true RMS) becomes peak-to-peak as a sawtooth's, with what its shape may be off added to the guard.
 */
export function inUnitOf(unit: PointUnit | undefined, taken: Taken): Converted | null {
  if (taken.unit === unit) return { value: taken.value, guard: taken.guard, factor: 1 };
  if (taken.unit !== 'Vrms' || unit !== 'Vpp' || taken.value < 0) return null;
  const factor = rippleFromReading(1, 'true-rms', { kind: 'sawtooth' }).peakToPeak;
  const value = factor * taken.value;
  return { value, guard: factor * taken.guard + SHAPE_SHARE * value, factor };
}
