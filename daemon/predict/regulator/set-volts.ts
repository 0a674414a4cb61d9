/** An adjustable three-terminal regulator with its two resistors; volts without sign for negative ones. */
export interface AdjustLeg {
  /** Output to adjust, V. */
  readonly referenceVolts: number;
  /** Out of the adjust pin, A. */
  readonly adjustAmps: number;
  /** Output to adjust, ohm. */
  readonly r1: number;
  /** Adjust to ground, ohm. */
  readonly r2: number;
}

/**
 * Output of an adjustable regulator: Vref(1 + R2/R1) + Iadj·R2, V.
 * Formula as in every LM317 datasheet; the LM337's is the same with all signs turned.
 */
export function adjustableVolts(leg: AdjustLeg): number {
  return leg.referenceVolts * (1 + leg.r2 / leg.r1) + leg.adjustAmps * leg.r2;
}

/** The R2 that gives `volts` with the reference, adjust current and R1 of `leg`, ohm: (V − Vref)/(Vref/R1 + Iadj). */
export function adjustResistor(volts: number, leg: Omit<AdjustLeg, 'r2'>): number {
  return (volts - leg.referenceVolts) / (leg.referenceVolts / leg.r1 + leg.adjustAmps);
}
