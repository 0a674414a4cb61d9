/** Noise of a temperature's readings from the differences of their steps, so that a steady climb isn't noise. */
export interface StepNoise {
  readonly lastC: number | null;
  readonly lastStepK: number | null;
  /** K². */
  readonly variance: number;
  /** What the newest change of the step weighs: the more have been heard, the less. */
  readonly newestShare: number;
}

const FIRST_SHARE = 0.05;
/** A hundred readings: from fewer, chance alone makes the noise look small now and then, and a wobble like a change. */
const LEAST_SHARE = 0.01;

export const UNKNOWN_NOISE: StepNoise = {
  lastC: null,
  lastStepK: null,
  variance: 0.02,
  newestShare: FIRST_SHARE,
};

/** A larger change of the step is no noise. */
const LARGEST_K = 3;
/** Variance of a second difference of independent readings, in variances of one. */
const SECOND_DIFFERENCE = 6;

export function hearStep(noise: StepNoise, celsius: number): StepNoise {
  const step = noise.lastC === null ? null : celsius - noise.lastC;
  const change = step === null || noise.lastStepK === null ? null : step - noise.lastStepK;
  if (change === null || Math.abs(change) >= LARGEST_K) return { ...noise, lastC: celsius, lastStepK: step };
  const { variance, newestShare } = noise;
  return {
    lastC: celsius,
    lastStepK: step,
    variance: variance + newestShare * ((change * change) / SECOND_DIFFERENCE - variance),
    newestShare: Math.max(LEAST_SHARE, newestShare / (1 + newestShare)),
  };
}
