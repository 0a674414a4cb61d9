import { diodeVolts, type DiodeLaw } from './parts/diodes.js';
import type { RectifierKind } from './design.js';
import type { Winding } from './parts/transformers.js';

/** Just enough current to hold a capacitor at its peak, A. */
const HOLDING_AMPS = 1e-3;

/**
 * Volts that an unloaded reservoir charges to: sqrt 2 x no-load secondary, less the diodes on the way (two in a
 * bridge) at a milliamp. `mainsShare` is the mains over what the transformer is made for.
 */
export function unloadedPeak(
  { ratedVolts, regulation }: Winding,
  rectifier: { readonly kind: RectifierKind; readonly law: DiodeLaw },
  mainsShare = 1,
): number {
  const diodes = rectifier.kind === 'bridge' ? 2 : 1;
  return (
    ratedVolts * (1 + regulation) * Math.SQRT2 * mainsShare - diodes * diodeVolts(rectifier.law, HOLDING_AMPS)
  );
}
