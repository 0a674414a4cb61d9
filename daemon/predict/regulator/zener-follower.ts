import type { RailLaw } from './rail.js';

/** A zener diode that holds the base of a bipolar follower: resistor from the input, zener to ground. */
export interface ZenerFollower {
  /** At `zenerTestAmps`, V. */
  readonly zenerVolts: number;
  readonly zenerTestAmps: number;
  /** Slope resistance of the zener, ohm. */
  readonly zenerResistance: number;
  /** Input to base, ohm. */
  readonly resistance: number;
  readonly beta: number;
  readonly baseEmitterVolts: number;
  /** Collector to emitter when saturated, V. */
  readonly saturationVolts: number;
}

export interface ZenerOperatingPoint {
  /** Through the zener at the mean input, A; 0 or less means that it doesn't regulate. */
  readonly zenerAmps: number;
  /** Heat in the zener, W. */
  readonly zenerDissipation: number;
  /** Heat in the resistor, W. */
  readonly resistorDissipation: number;
}

/**
 * The rail law of a zener with follower at a load (A) and a mean input (V), by Ohm's law:
 * base = (in·rz + V0·R − Ib·R·rz)/(R + rz) with V0 the zener's volts at no current. The ripple passes by
 * rz/(R + rz). It drops out when the resistor can't feed the base (in − Ib·R) or the transistor saturates.
 */
export function zenerRail(part: ZenerFollower, amps: number, meanInput: number): RailLaw {
  const { resistance, zenerResistance, baseEmitterVolts } = part;
  const baseAmps = amps / (part.beta + 1);
  const base = regulatedBase(part, baseAmps, meanInput);
  return {
    setVolts: base - baseEmitterVolts,
    feedthrough: zenerResistance / (resistance + zenerResistance),
    dropoutVolts: Math.max(baseAmps * resistance + baseEmitterVolts, part.saturationVolts),
    quiescentAmps: Math.max(0, (meanInput - base) / resistance - baseAmps),
  };
}

/** Currents and heat around the zener at a load (A) and a mean input (V). */
export function zenerOperatingPoint(
  part: ZenerFollower,
  amps: number,
  meanInput: number,
): ZenerOperatingPoint {
  const baseAmps = amps / (part.beta + 1);
  const base = Math.min(regulatedBase(part, baseAmps, meanInput), meanInput - baseAmps * part.resistance);
  const through = (meanInput - base) / part.resistance;
  const zenerAmps = through - baseAmps;
  return {
    zenerAmps,
    zenerDissipation: base * zenerAmps,
    resistorDissipation: through * through * part.resistance,
  };
}

function regulatedBase(part: ZenerFollower, baseAmps: number, input: number): number {
  const { resistance, zenerResistance } = part;
  const atNoCurrent = part.zenerVolts - part.zenerTestAmps * zenerResistance;
  return (
    (input * zenerResistance + atNoCurrent * resistance - baseAmps * resistance * zenerResistance) /
    (resistance + zenerResistance)
  );
}
