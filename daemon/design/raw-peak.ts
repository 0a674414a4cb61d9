import { diodeVolts, type DiodeLaw } from './parts/diodes.js';
import type { Winding } from './parts/transformers.js';

/** Just enough current to hold a capacitor at its peak, A. */
const HOLDING_AMPS = 1e-3;

/**
 * Volts that an unloaded reservoir behind a bridge charges to: sqrt 2 x no-load secondary, less two diodes at a
 * milliamp. `mainsShare` is the mains over what the transformer is made for.
 */
export function unloadedPeak({ ratedVolts, regulation }: Winding, diode: DiodeLaw, mainsShare = 1): number {
  return ratedVolts * (1 + regulation) * Math.SQRT2 * mainsShare - 2 * diodeVolts(diode, HOLDING_AMPS);
}
