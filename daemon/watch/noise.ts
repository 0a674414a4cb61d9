/** Mean moving range of two readings over the standard deviation (d2 of the control-chart tables for n = 2). */
const MOVING_RANGE_FACTOR = 1.128;
/** Share of the newest step in the running mean. */
const NEWEST_SHARE = 1 / 16;
/** A step counts for at most this many times the mean so far, so that switching on isn't taken for noise. */
const LARGEST_STEP = 4;
/** Nobody's meter resolves less of its reading: keeps the estimate able to grow again after a still time. */
const SMALLEST_SHARE = 1e-4;
/** How much of the reading the very first step may claim. */
const FIRST_SHARE = 0.01;

/**
 * The running mean of the steps between successive readings after one more reading, in the channel's unit;
 * null until there are two readings.
 */
export function nextMeanStep(
  meanStep: number | null,
  previous: number | null,
  value: number,
  resolution: number,
): number | null {
  if (previous === null) return meanStep;
  const step = Math.abs(value - previous);
  if (meanStep === null) return Math.min(step, Math.max(FIRST_SHARE * Math.abs(value), resolution));
  const largest = LARGEST_STEP * Math.max(meanStep, resolution, SMALLEST_SHARE * Math.abs(value));
  return meanStep + (Math.min(step, largest) - meanStep) * NEWEST_SHARE;
}

/** Standard deviation of the channel's noise. */
export function noiseDeviation(meanStep: number): number {
  return meanStep / MOVING_RANGE_FACTOR;
}

/**
 * How far a value must come back before it counts as back: four standard deviations, which is about the
 * peak-to-peak of the noise, and one step of the display.
 */
export function deadband(meanStep: number | null, resolution: number): number {
  return 4 * noiseDeviation(meanStep ?? 0) + resolution;
}
