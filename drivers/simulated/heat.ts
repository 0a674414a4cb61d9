import type { AirCooling } from './parts.js';
import type { RailCooling } from './supply-parts.js';

/** Temperatures of one regulator, degrees C. A bare package has its heatsink at the case's temperature. */
export interface HeatState {
  readonly junction: number;
  readonly case: number;
  readonly heatsink: number;
}

const STEFAN_BOLTZMANN = 5.670374e-8;
const ZERO_CELSIUS_KELVIN = 273.15;
/** Far below a case's own time constants, which begin at about a second. */
const LONGEST_STEP_SECONDS = 0.1;

/**
 * Heat from a surface to the air around it, W: conduction, natural convection as the 1.25th power of the rise,
 * radiation by the Stefan-Boltzmann law. Negative where the surface is the colder one.
 * `airMovement` multiplies the convection: 1 is still air.
 */
export function heatToAir(cooling: AirCooling, surface: number, air: number, airMovement = 1): number {
  const rise = surface - air;
  const convected = airMovement * cooling.convection * Math.sign(rise) * Math.abs(rise) ** 1.25;
  const radiated =
    STEFAN_BOLTZMANN *
    cooling.radiatingArea_m2 *
    ((surface + ZERO_CELSIUS_KELVIN) ** 4 - (air + ZERO_CELSIUS_KELVIN) ** 4);
  return cooling.conduction * rise + convected + radiated;
}

/** How much more heat goes to the air for a kelvin more, W/K. */
function heatToAirSlope(cooling: AirCooling, surface: number, air: number, airMovement: number): number {
  const convected = airMovement * 1.25 * cooling.convection * Math.abs(surface - air) ** 0.25;
  const radiated = 4 * STEFAN_BOLTZMANN * cooling.radiatingArea_m2 * (surface + ZERO_CELSIUS_KELVIN) ** 3;
  return cooling.conduction + convected + radiated;
}

/** Everything at the temperature of the air. */
export function coldState(air: number): HeatState {
  return { junction: air, case: air, heatsink: air };
}

/**
 * Lets `seconds` pass with `watts` in the junction. Junction, case and heatsink each have a heat capacity; the
 * air is given. Implicit Euler steps, linearised once a step, so that no step can run away.
 */
export function heatFor(
  state: HeatState,
  cooling: RailCooling,
  conditions: { readonly watts: number; readonly air: number; readonly airMovement?: number },
  seconds: number,
): HeatState {
  const steps = Math.max(1, Math.ceil(seconds / LONGEST_STEP_SECONDS - 1e-9));
  const dt = seconds / steps;
  const airMovement = conditions.airMovement ?? 1;
  let next = state;
  for (let step = 0; step < steps; step += 1) {
    next =
      cooling.heatsink === null
        ? stepBare(next, cooling, conditions.watts, conditions.air, airMovement, dt)
        : stepMounted(next, cooling, cooling.heatsink, conditions.watts, conditions.air, airMovement, dt);
  }
  return next;
}

/** Two nodes; the case gives its heat to the air. */
function stepBare(
  state: HeatState,
  cooling: RailCooling,
  watts: number,
  air: number,
  airMovement: number,
  dt: number,
): HeatState {
  const { junctionToCase, junctionCapacity, caseCapacity } = cooling.package;
  const a = cooling.package.air;
  const slope = heatToAirSlope(a, state.case, air, airMovement);
  const upper = eliminateJunction(state.junction, watts, junctionCapacity / dt, 1 / junctionToCase);
  const stored = caseCapacity / dt;
  const caseTemperature =
    (stored * state.case - heatToAir(a, state.case, air, airMovement) + slope * state.case + upper.watts) /
    (stored + slope + upper.conductance);
  return {
    junction: upper.offset + upper.share * caseTemperature,
    case: caseTemperature,
    heatsink: caseTemperature,
  };
}

/** Three nodes; the heatsink gives the heat to the air. What the package itself sheds beside it is neglected. */
function stepMounted(
  state: HeatState,
  cooling: RailCooling,
  heatsink: NonNullable<RailCooling['heatsink']>,
  watts: number,
  air: number,
  airMovement: number,
  dt: number,
): HeatState {
  const { junctionToCase, junctionCapacity, caseCapacity } = cooling.package;
  const slope = heatToAirSlope(heatsink.air, state.heatsink, air, airMovement);
  const upper = eliminateJunction(state.junction, watts, junctionCapacity / dt, 1 / junctionToCase);
  const through = 1 / heatsink.interface;
  const caseSum = caseCapacity / dt + upper.conductance + through;
  const caseOffset = ((caseCapacity / dt) * state.case + upper.watts) / caseSum;
  const caseShare = through / caseSum;
  const stored = heatsink.capacity / dt;
  const heatsinkTemperature =
    (stored * state.heatsink -
      heatToAir(heatsink.air, state.heatsink, air, airMovement) +
      slope * state.heatsink +
      through * caseOffset) /
    (stored + slope + through * (1 - caseShare));
  const caseTemperature = caseOffset + caseShare * heatsinkTemperature;
  return {
    junction: upper.offset + upper.share * caseTemperature,
    case: caseTemperature,
    heatsink: heatsinkTemperature,
  };
}

/**
 * The junction's row of the implicit step solved for the case below it: junction = offset + share x case, and
 * the junction pushes `watts - conductance x case` into the case.
 */
function eliminateJunction(
  junction: number,
  watts: number,
  stored: number,
  conductance: number,
): { offset: number; share: number; watts: number; conductance: number } {
  const sum = stored + conductance;
  const offset = (stored * junction + watts) / sum;
  const share = conductance / sum;
  return { offset, share, watts: conductance * offset, conductance: conductance * (1 - share) };
}
