import type { RectifierCircuit } from './circuit.js';
import { RectifierError, describeCircuit } from './circuit.js';
import type { Workspace } from './pieces.js';
import { createWorkspace } from './pieces.js';
import type { SteadyState } from './steady-state.js';
import { solveRectifier } from './steady-state.js';
import type { SwitchOn } from './switch-on.js';
import { solveSwitchOn } from './switch-on.js';

/** A filament lamp by its print: watts at volts. */
export interface FilamentLamp {
  readonly ratedWatts: number;
  readonly ratedVolts: number;
}

/** The supply with a lamp in series with the transformer's primary. */
export interface LampLimited {
  readonly steady: SteadyState;
  readonly lampWatts: number;
  /** RMS across the lamp. */
  readonly lampVolts: number;
  /** Ohms of the filament as warm as it gets. */
  readonly lampResistance: number;
  /** Through a filament still cold: the largest inrush. */
  readonly switchOnCold: SwitchOn;
  /** Through a filament already at its rated heat: the slowest charging. */
  readonly switchOnHot: SwitchOn;
}

const AMBIENT_KELVIN = 300;
const RATED_KELVIN = 2700;
const RESISTANCE_EXPONENT = 1.2;
const MOST_ROUNDS = 80;

/**
 * Ohms of a tungsten filament that takes `watts`.
 *
 * Power goes with T^4 less the surroundings' (Stefan-Boltzmann) and tungsten's resistance with T^1.2
 * (H. Jones and I. Langmuir, General Electric Review 30, 1927; exponent from memory). Near the rating
 * this gives current ~ volts^0.54, the lamp maker's rule of thumb, and cold a fourteenth of hot, within
 * the tenth to fifteenth of common practice.
 */
export function filamentResistance(lamp: FilamentLamp, watts: number): number {
  const hot = (lamp.ratedVolts * lamp.ratedVolts) / lamp.ratedWatts;
  const surroundings = (AMBIENT_KELVIN / RATED_KELVIN) ** 4;
  const heat = surroundings + (watts / lamp.ratedWatts) * (1 - surroundings);
  return hot * heat ** (RESISTANCE_EXPONENT / 4);
}

/**
 * Steady state and switch-on with a lamp in series with the primary, seen at the secondary through the
 * turns ratio squared. The filament is taken as too slow to follow the mains cycle. Magnetising current
 * is left out, and a half-wave load's direct current is counted as if the lamp carried it.
 * `mainsVolts` is the RMS at the primary that gives the circuit's `emfPeak`. Throws RectifierError.
 */
export function solveLampLimited(
  circuit: RectifierCircuit,
  lamp: FilamentLamp,
  mainsVolts: number,
  space: Workspace = createWorkspace(),
): LampLimited {
  const turns = circuit.emfPeak / Math.SQRT2 / mainsVolts;
  const reflected = turns * turns;
  const cold = filamentResistance(lamp, 0);
  const resistance = settledResistance(circuit, lamp, reflected, space);
  const steady = solveRectifier(withLamp(circuit, resistance * reflected), space);
  const lampWatts = steady.rectifiedRmsCurrent ** 2 * resistance * reflected;
  const hot = filamentResistance(lamp, lamp.ratedWatts);
  return {
    steady,
    lampWatts,
    lampVolts: Math.sqrt(lampWatts * resistance),
    lampResistance: resistance,
    switchOnCold: solveSwitchOn(withLamp(circuit, cold * reflected), space),
    switchOnHot: solveSwitchOn(withLamp(circuit, hot * reflected), space),
  };
}

function withLamp(circuit: RectifierCircuit, reflectedOhm: number): RectifierCircuit {
  return { ...circuit, seriesResistance: circuit.seriesResistance + reflectedOhm };
}

/**
 * The filament's ohms at which it takes just the power that keeps it there, by bisection on the logarithm
 * between cold and thrice hot: at the cold end it heats up, at the hot end no supply can keep it.
 */
function settledResistance(
  circuit: RectifierCircuit,
  lamp: FilamentLamp,
  reflected: number,
  space: Workspace,
): number {
  let low = Math.log(filamentResistance(lamp, 0));
  let high = Math.log(3 * filamentResistance(lamp, lamp.ratedWatts));
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const middle = (low + high) / 2;
    const ohm = Math.exp(middle);
    const { rectifiedRmsCurrent } = solveRectifier(withLamp(circuit, ohm * reflected), space);
    const settles = filamentResistance(lamp, rectifiedRmsCurrent ** 2 * ohm * reflected);
    if (settles > ohm) low = middle;
    else high = middle;
    if (high - low < 1e-7) return Math.exp((low + high) / 2);
  }
  throw new RectifierError(
    'rectifier-unsolved',
    `lamp of ${lamp.ratedWatts} W doesn't settle`,
    describeCircuit(circuit),
  );
}
