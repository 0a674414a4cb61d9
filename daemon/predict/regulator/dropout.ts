/**
 * Least input-output difference of a linear regulator: base + perAmp·I + perKelvin·(Tj − 25 °C).
 * The shape is that of the curves printed in datasheets (two junctions plus a resistance), from memory.
 */
export interface DropoutLaw {
  /** At no current and 25 °C, V. */
  readonly baseVolts: number;
  /** V/A. */
  readonly perAmp: number;
  /** V/K; negative where two junctions stand in the way. */
  readonly perKelvin: number;
}

/** Slopes of a part whose dropout is stated at `upToAmps` or less. */
interface Family {
  readonly perAmp: number;
  readonly perKelvin: number;
  readonly upToAmps: number;
}

/** The classic kind with a Darlington pass stage (LM317, LM337, 78xx, 79xx), from memory. */
const DARLINGTON: Family = { perAmp: 0.5, perKelvin: -0.0031, upToAmps: 1 };
/** The kind with one junction and a saturated driver (1.2 to 1.5 V at full load), from memory. */
const LOW_DROP: Family = { perAmp: 0.2, perKelvin: -0.001, upToAmps: 1.5 };

/** Where a family's law runs through: volts at amps and 25 °C, as a datasheet prints them. */
export interface DropoutPoint {
  readonly volts: number;
  readonly amps: number;
}

/**
 * LM317 about 2 V at 1 A and 25 °C, about 2.5 V at 1.5 A and −55 °C (read off a curve, from memory); the
 * 78xx family has typically 2 V at 1 A and 25 °C (several makers' datasheets).
 */
export function darlingtonDropout(point: DropoutPoint): DropoutLaw {
  return lawThrough(point, DARLINGTON);
}

export function lowDropDropout(point: DropoutPoint): DropoutLaw {
  return lawThrough(point, LOW_DROP);
}

/**
 * A part for more amps has a larger die and as much less resistance, for the junctions keep their volts however large
 * they are: two of them and a saturated driver never let a 5 A regulator down to a few tenths of a volt (textbook).
 */
function lawThrough(point: DropoutPoint, { perAmp, perKelvin, upToAmps }: Family): DropoutLaw {
  const slope = perAmp * Math.min(1, upToAmps / point.amps);
  return { baseVolts: point.volts - slope * point.amps, perAmp: slope, perKelvin };
}

/** Volts that a regulator needs above its output at this current and junction temperature (°C); never below 0. */
export function dropoutVolts(law: DropoutLaw, amps: number, junctionTemperature: number): number {
  return Math.max(0, law.baseVolts + law.perAmp * amps + law.perKelvin * (junctionTemperature - 25));
}
