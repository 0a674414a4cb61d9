import { E12, nearestInSeries } from '../design/parts/series.js';
import { ratedWatts } from './advice/values-to-buy.js';

/** A resistor for the soak before the real load: what draws the full amps, in a value and rating one can buy. */
export interface DummyLoad {
  /** Nearest E12 value, ohm. */
  readonly ohms: number;
  /** At least twice the heat, since a resistor at its rated watts is too hot to touch (common practice), W. */
  readonly ratedWatts: number;
}

/** Ohm's law and the derating by two; null when nothing is drawn. */
export function dummyLoad(volts: number, amps: number): DummyLoad | null {
  if (!(volts > 0 && amps > 0)) return null;
  const ohms = nearestInSeries(volts / amps, E12);
  return { ohms, ratedWatts: ratedWatts(volts ** 2 / ohms) };
}
