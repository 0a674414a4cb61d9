/** A reservoir left to itself. V, F, ohm, A. */
export interface Discharge {
  readonly capacitance: number;
  /** Node volts when the mains goes. */
  readonly fromVolts: number;
  /** Volts counted as safe. */
  readonly safeVolts: number;
  /** Constant current that goes on to the end; 0 when the regulators let go first. */
  readonly loadCurrent: number;
  /** `Infinity` for none. */
  readonly loadResistance: number;
  readonly bleedResistance: number;
}

/**
 * Seconds until the node is below `safeVolts`; 0 if it is already, Infinity if nothing discharges it.
 *
 * C·v' = -(I0 + v/R): t = R·C·ln((I0 + v0/R)/(I0 + v1/R)), and C·(v0 - v1)/I0 without a resistance.
 */
export function secondsToSafe(discharge: Discharge): number {
  const { capacitance, fromVolts, safeVolts, loadCurrent } = discharge;
  if (fromVolts <= safeVolts) return 0;
  const conductance = 1 / discharge.loadResistance + 1 / discharge.bleedResistance;
  const fall = fromVolts - safeVolts;
  const atEnd = loadCurrent + conductance * safeVolts;
  const ratio = (conductance * fall) / atEnd;
  if (ratio < 1e-9) return (capacitance * fall) / atEnd;
  return conductance === 0 ? Infinity : (capacitance / conductance) * Math.log1p(ratio);
}
