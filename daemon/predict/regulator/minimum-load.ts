import type { AdjustLeg } from './set-volts.js';

/** Whether a regulator is loaded enough to regulate. */
export interface MinimumLoadCheck {
  /** Load, plus what R1 draws of an adjustable one, A. */
  readonly drawnAmps: number;
  /** What is missing, A; 0 when enough. */
  readonly shortfallAmps: number;
  /** The resistor across the output that would supply it, ohm; Infinity when none is needed. */
  readonly bleedOhms: number;
}

/**
 * An adjustable regulator's own supply current leaves through its output, so that below the minimum load the rail
 * rises towards its input; the current Vref/R1 in the divider counts (LM317 datasheets: 3.5 mA typical, 10 mA at most).
 */
export function checkMinimumLoad(
  minimumAmps: number,
  railVolts: number,
  loadAmps: number,
  leg?: Pick<AdjustLeg, 'referenceVolts' | 'r1'>,
): MinimumLoadCheck {
  const drawnAmps = loadAmps + (leg === undefined ? 0 : leg.referenceVolts / leg.r1);
  const shortfallAmps = Math.max(0, minimumAmps - drawnAmps);
  return { drawnAmps, shortfallAmps, bleedOhms: shortfallAmps > 0 ? railVolts / shortfallAmps : Infinity };
}
