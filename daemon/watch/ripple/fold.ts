import type { MainsFrequency, Trace } from './mains-frequency.js';

/** Points of one period, by phase. A place without samples isn't among them. */
export interface Fold {
  /** Turns, 0 to 1. */
  readonly phases: Float64Array;
  /** V, means of the samples there. */
  readonly values: Float64Array;
  /** How many samples each stands for. */
  readonly weights: Float64Array;
}

/** Places in a mains period. */
const PLACES = 240;

/** Phase of sample `i`, turns of the mains from the middle of the trace, 0 to 1. */
export function phaseOf({ values, stepSeconds }: Trace, hertz: number, i: number): number {
  const turns = (i - (values.length - 1) / 2) * stepSeconds * hertz;
  return turns - Math.floor(turns);
}

/**
 * The trace without its straight drift, folded over its mains periods: each place takes the mean of its samples at
 * their mean phase, so that a count of periods that isn't whole, noise and bursts average out.
 */
export function foldMains(trace: Trace, { hertz, drift }: MainsFrequency): Fold {
  const { values, stepSeconds } = trace;
  const sums = new Float64Array(PLACES);
  const phaseSums = new Float64Array(PLACES);
  const counts = new Float64Array(PLACES);
  const middle = (values.length - 1) / 2;
  const turnsPerStep = stepSeconds * hertz;
  const driftPerStep = stepSeconds * drift;
  for (let i = 0; i < values.length; i += 1) {
    const turns = (i - middle) * turnsPerStep;
    const phase = turns - Math.floor(turns);
    const place = Math.min(PLACES - 1, Math.floor(phase * PLACES));
    sums[place]! += values[i]! - (i - middle) * driftPerStep;
    phaseSums[place]! += phase;
    counts[place]! += 1;
  }
  const filled = [...counts.keys()].filter((place) => counts[place]! > 0);
  return {
    phases: Float64Array.from(filled, (place) => phaseSums[place]! / counts[place]!),
    values: Float64Array.from(filled, (place) => sums[place]! / counts[place]!),
    weights: Float64Array.from(filled, (place) => counts[place]!),
  };
}

/** The same points with both halves of the mains on one another; a turn is then half a mains period. */
export function foldHalves({ phases, values, weights }: Fold): Fold {
  return { phases: phases.map((phase) => (2 * phase) % 1), values, weights };
}
