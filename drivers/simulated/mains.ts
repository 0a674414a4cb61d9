import { seededRandom } from './random.js';

/** The mains of a house: rated volts that wander a little. */
export interface WanderingMains {
  /** Volts as a share of the rated ones. */
  factor(): number;
  /** Lets this much time pass. */
  step(seconds: number): void;
}

const WANDER_SECONDS = 60;

/**
 * A random walk that is pulled back to the rated volts (Ornstein-Uhlenbeck) with a memory of a minute.
 * `deviation` is its standard deviation as a share.
 */
export function wanderingMains(seed: number, deviation: number): WanderingMains {
  const random = seededRandom(seed + 7919);
  let offset = deviation * random.normal();
  return {
    factor: () => 1 + offset,
    step(seconds) {
      const kept = Math.exp(-seconds / WANDER_SECONDS);
      offset = offset * kept + deviation * Math.sqrt(1 - kept * kept) * random.normal();
    },
  };
}
