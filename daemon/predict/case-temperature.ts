/** A chain of thermal resistances from junction to air, K/W. */
export interface ThermalPath {
  readonly junctionCase: number;
  /** Case to heatsink; 0 for a bare package. */
  readonly caseSink: number;
  /** Heatsink to air, or case to air of a bare package. */
  readonly toAir: number;
}

/** Steady temperatures, degrees C: T = air + P x sum of K/W. Source: TI LM317 SLVS044Z, equations 9 to 12. */
export function steadyTemperatures(
  watts: number,
  air: number,
  { junctionCase, caseSink, toAir }: ThermalPath,
): { case: number; junction: number } {
  const caseTemperature = air + watts * (caseSink + toAir);
  return { case: caseTemperature, junction: caseTemperature + watts * junctionCase };
}

/** The most K/W from junction to air that keeps the junction at its limit: (Tj - Ta) / P. */
export function mostJunctionAir(watts: number, air: number, junctionLimit: number): number {
  return (junctionLimit - air) / watts;
}

/**
 * The most K/W that a heatsink may have; negative when no heatsink suffices.
 * Source: TI LM317 SLVS044Z, thetaHA <= thetaJA - (thetaCH + thetaJC).
 */
export function mostHeatsink(
  watts: number,
  air: number,
  junctionLimit: number,
  path: Pick<ThermalPath, 'junctionCase' | 'caseSink'>,
): number {
  return mostJunctionAir(watts, air, junctionLimit) - path.junctionCase - path.caseSink;
}

/** The case temperature at which the junction reaches its limit, degrees C: Tj - P x K/W from junction to case. */
export function caseLimit(watts: number, junctionLimit: number, junctionCase: number): number {
  return junctionLimit - watts * junctionCase;
}
