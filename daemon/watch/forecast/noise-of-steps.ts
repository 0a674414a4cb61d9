/** Noise of a temperature's readings from the differences of their steps, so that a steady climb isn't noise. */
export interface StepNoise {
  readonly lastC: number | null;
  readonly lastStepK: number | null;
  /** K². */
  readonly variance: number;
}

export const UNKNOWN_NOISE: StepNoise = { lastC: null, lastStepK: null, variance: 0.02 };

const NEWEST_SHARE = 0.05;
/** A larger change of the step is no noise. */
const LARGEST_K = 3;
/** Variance of a second difference of independent readings, in variances of one. */
const SECOND_DIFFERENCE = 6;

export function hearStep(noise: StepNoise, celsius: number): StepNoise {
  const step = noise.lastC === null ? null : celsius - noise.lastC;
  const change = step === null || noise.lastStepK === null ? null : step - noise.lastStepK;
  const variance =
    change === null || Math.abs(change) >= LARGEST_K
      ? noise.variance
      : noise.variance + NEWEST_SHARE * ((change * change) / SECOND_DIFFERENCE - noise.variance);
  return { lastC: celsius, lastStepK: step, variance };
}
