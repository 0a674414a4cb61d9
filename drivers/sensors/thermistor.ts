/** 0 degrees C in kelvin, and the temperature at which makers state an NTC's resistance. */
const ZERO_K = 273.15;
const REFERENCE_K = 25 + ZERO_K;

/** Where an NTC bead is read unless told otherwise. Common practice: beads in epoxy end at 155 degrees C. */
export const NTC_RANGE = { lowest: -55, highest: 155 } as const;

/** An NTC by its beta: R = R25 exp(beta (1/T - 1/298.15)). Right at 25 degrees C and a few K off at 125. */
export interface BetaCurve {
  readonly beta: number;
  /** Ohms at 25 degrees C. */
  readonly r25: number;
}

/**
 * An NTC by the Steinhart-Hart equation 1/T = a + b x + d x^2 + c x^3, with x = ln(R / ohmsUnit). The plain equation
 * has no d and R in ohms; the one with four terms is usually printed for R / R25.
 */
export interface SteinhartHartCurve {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly ohmsUnit: number;
}

/** The temperature at which an NTC has these ohms; null when there is none. */
export function betaTemperature({ beta, r25 }: BetaCurve, ohms: number): number | null {
  return fromInverse(1 / REFERENCE_K + Math.log(ohms / r25) / beta);
}

/** The ohms of an NTC at this temperature. */
export function betaOhms({ beta, r25 }: BetaCurve, temperature: number): number {
  return r25 * Math.exp(beta * (1 / (temperature + ZERO_K) - 1 / REFERENCE_K));
}

/** The temperature at which an NTC has these ohms; null when there is none. */
export function steinhartHartTemperature(curve: SteinhartHartCurve, ohms: number): number | null {
  const x = Math.log(ohms / curve.ohmsUnit);
  return fromInverse(curve.a + x * (curve.b + x * (curve.d + x * curve.c)));
}

/** From 1/K; null for what no temperature has, as with no ohms or negative ones. */
function fromInverse(inverseKelvin: number): number | null {
  return inverseKelvin > 0 && Number.isFinite(inverseKelvin) ? 1 / inverseKelvin - ZERO_K : null;
}
