/** Junction from a measured case, a known power and the junction-to-case resistance, °C. */
export function junctionFromCase(caseTemperature: number, watts: number, junctionToCase: number): number {
  return caseTemperature + watts * junctionToCase;
}

/** The hottest case at which the junction still keeps its limit, °C. */
export function caseLimit(junctionLimit: number, watts: number, junctionToCase: number): number {
  return junctionLimit - watts * junctionToCase;
}

/** Junction to air that keeps a junction at or below its limit, K/W: (Tj − Ta)/P. */
export function allowedResistance(junctionLimit: number, air: number, watts: number): number {
  return watts > 0 ? (junctionLimit - air) / watts : Infinity;
}

/**
 * The heatsink that keeps a junction within its limit, K/W: (Tj − Ta)/P less what lies before it
 * (heatsink rule of the LM317 datasheet). Zero or less: no heatsink can.
 */
export function neededHeatsink(
  junctionLimit: number,
  air: number,
  watts: number,
  junctionToCase: number,
  caseToSink: number,
): number {
  return allowedResistance(junctionLimit, air, watts) - junctionToCase - caseToSink;
}
