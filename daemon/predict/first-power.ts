import { E12, nearestInSeries } from '../design/parts/series.js';

/** A resistor for the soak before the real load: what draws the full amps, in a value and rating one can buy. */
export interface DummyLoad {
  /** Nearest E12 value, ohm. */
  readonly ohms: number;
  /** At least twice the heat, since a resistor at its rated watts is too hot to touch (common practice), W. */
  readonly ratedWatts: number;
}

const RATED_WATTS = [0.25, 0.5, 1, 2, 3, 5, 7, 10, 15, 25, 50, 100, 200];

/** Ohm's law and the derating by two; null when nothing is drawn. */
export function dummyLoad(volts: number, amps: number): DummyLoad | null {
  if (!(volts > 0 && amps > 0)) return null;
  const ohms = nearestInSeries(volts / amps, E12);
  const wanted = (2 * volts ** 2) / ohms;
  return { ohms, ratedWatts: RATED_WATTS.find((rating) => rating >= wanted) ?? Math.ceil(wanted) };
}
