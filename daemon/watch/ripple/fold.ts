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

/**
 * The trace without its straight drift, folded over its mains periods: each place takes the mean of its samples at
 * their mean phase, so that a count of periods that isn't whole, noise and bursts average out.
 */
export function foldMains(trace: Trace, { hertz, drift }: MainsFrequency): Fold {
  const { values, stepSeconds } = trace;
  const sums = emptySums(PLACES);
  const middle = (values.length - 1) / 2;
  const turnsPerStep = stepSeconds * hertz;
  const driftPerStep = stepSeconds * drift;
  for (let i = 0; i < values.length; i += 1) {
    const turns = (i - middle) * turnsPerStep;
    addTo(sums, turns - Math.floor(turns), values[i]! - (i - middle) * driftPerStep, 1);
  }
  return means(sums);
}

/** The same points with both halves of the mains on one another; a turn is then half a mains period. */
export function foldHalves({ phases, values, weights }: Fold): Fold {
  return { phases: phases.map((phase) => (2 * phase) % 1), values, weights };
}

/** The same fold with at most so many places. */
export function coarser({ phases, values, weights }: Fold, places: number): Fold {
  const sums = emptySums(places);
  for (let i = 0; i < phases.length; i += 1) addTo(sums, phases[i]!, values[i]!, weights[i]!);
  return means(sums);
}

interface Sums {
  readonly values: Float64Array;
  readonly phases: Float64Array;
  readonly weights: Float64Array;
}

function emptySums(places: number): Sums {
  return {
    values: new Float64Array(places),
    phases: new Float64Array(places),
    weights: new Float64Array(places),
  };
}

function addTo({ values, phases, weights }: Sums, phase: number, value: number, weight: number): void {
  const place = Math.min(values.length - 1, Math.floor(phase * values.length));
  values[place]! += weight * value;
  phases[place]! += weight * phase;
  weights[place]! += weight;
}

function means({ values, phases, weights }: Sums): Fold {
  const filled = [...weights.keys()].filter((place) => weights[place]! > 0);
  return {
    phases: Float64Array.from(filled, (place) => phases[place]! / weights[place]!),
    values: Float64Array.from(filled, (place) => values[place]! / weights[place]!),
    weights: Float64Array.from(filled, (place) => weights[place]!),
  };
}
