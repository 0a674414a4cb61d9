import type { Design, LoadState, Rail } from '../design/design.js';
import { diodeNamed, type DiodeLaw } from '../design/parts/diodes.js';
import { interfaceResistance } from '../design/parts/interfaces.js';
import { packageNamed } from '../design/parts/packages.js';
import { regulatorNamed, type Regulator } from '../design/parts/regulators.js';
import type { Spread } from '../design/parts/spread.js';
import { REGULATION_DOUBT, windingOf, type Winding } from '../design/parts/transformers.js';
import { mainsVolts } from './mains.js';
import type { PredictOptions } from './prediction.js';

const CIRCUIT_KEYS = [
  'mainsVolts',
  'windingVolts',
  'regulation',
  'diodeOffset',
  'farads',
  'esr',
  'ambient',
  'enclosureRise',
] as const;
type CircuitKey = (typeof CIRCUIT_KEYS)[number];

const RAIL_KEYS = [
  'volts',
  'r1',
  'r2',
  'adjustAmps',
  'dropout',
  'rejection_dB',
  'groundAmps',
  'loadAmps',
  'junctionCase',
  'caseSink',
  'toAir',
] as const;
type RailKey = (typeof RAIL_KEYS)[number];

/** Everything uncertain about a supply: as spreads, or as one value each. */
export interface Supply<T> {
  readonly circuit: Readonly<Record<CircuitKey, T>>;
  readonly rails: Readonly<Record<string, Readonly<Record<RailKey, T>>>>;
}

/** What is certain: the wiring, and the parts as the library has them. */
export interface SupplyFacts {
  readonly design: Design;
  readonly winding: Winding;
  readonly diode: DiodeLaw;
  readonly regulators: Readonly<Record<string, Regulator>>;
  /** The rails' names, each after the one that feeds it. */
  readonly order: readonly string[];
}

/** Gathers the parts of a loaded design. @throws {RangeError} for a part that isn't in the library. */
export function factsOf(design: Design): SupplyFacts {
  const rails = Object.entries(design.rails);
  return {
    design,
    winding: windingOf(design.transformer, design.rectifier.kind),
    diode: diodeNamed(design.rectifier.diode).law,
    order: feedOrder(design),
    regulators: Object.fromEntries(rails.map(([name, rail]) => [name, regulatorNamed(rail.regulator)])),
  };
}

/** Sources before what they feed. @throws {RangeError} for a rail that feeds itself; loading refuses those. */
function feedOrder({ rails }: Design): string[] {
  const order: string[] = [];
  let rest = Object.keys(rails);
  while (rest.length > 0) {
    const ready = rest.filter((name) => {
      const from = rails[name]?.from ?? 'reservoir';
      return from === 'reservoir' || order.includes(from);
    });
    if (ready.length === 0) throw new RangeError(`rails ${rest.join(', ')}: nothing feeds them`);
    order.push(...ready);
    rest = rest.filter((name) => !ready.includes(name));
  }
  return order;
}

/** Every uncertain value of a design in a load state, with the ends between which 95 % lie. */
export function supplyOf(facts: SupplyFacts, options: PredictOptions): Supply<Spread> {
  const { design } = facts;
  const rails = Object.entries(design.rails).map(
    ([name, rail]) => [name, railSpreads(rail, regulatorNamed(rail.regulator), options.load)] as const,
  );
  return { circuit: circuitSpreads(facts, options), rails: Object.fromEntries(rails) };
}

/** Changes every value of a supply; `change` also gets a name that is unique to the value. */
export function mapSupply<A, B>(supply: Supply<A>, change: (value: A, name: string) => B): Supply<B> {
  const circuit = Object.fromEntries(
    CIRCUIT_KEYS.map((key) => [key, change(supply.circuit[key], key)]),
  ) as Record<CircuitKey, B>;
  const rails = Object.entries(supply.rails).map(([name, rail]) => [
    name,
    Object.fromEntries(RAIL_KEYS.map((key) => [key, change(rail[key], `${name}.${key}`)])),
  ]);
  return { circuit, rails: Object.fromEntries(rails) as Record<string, Record<RailKey, B>> };
}

/** Rated secondary volts of a transformer, from part to part (from memory). */
export const WINDING_DOUBT = 0.03;
/** A regulation that is written on the label (from memory). */
const WRITTEN_REGULATION_DOUBT = 0.15;
/** What a rail draws in one of its states (common practice). */
export const LOAD_DOUBT = 0.1;
/** Catalogue K/W of a heatsink: it holds at one rise, and natural convection weakens with the fourth root of a smaller one. */
export const HEATSINK_DOUBT = { low: 0.8, high: 1.25 };

/** ESR of a general-purpose electrolytic: loss factor about 0.15 at 100 Hz (from memory), ohm. */
export function usualEsr(farads: number): number {
  return 0.15 / (2 * Math.PI * 100 * farads);
}

function circuitSpreads(facts: SupplyFacts, options: PredictOptions): Record<CircuitKey, Spread> {
  const { design, winding } = facts;
  const { mains, reservoir } = design;
  const farads = reservoir.capacity_uF * 1e-6;
  const { esr } = reservoir;
  const regulationDoubt = winding.regulationFrom === 'usual' ? REGULATION_DOUBT : WRITTEN_REGULATION_DOUBT;
  const { typical, highest } = mains.ambient;
  const measured = options.ambient;
  return {
    mainsVolts: mainsVolts(mains, options.mainsVolts),
    windingVolts: within(winding.ratedVolts, WINDING_DOUBT),
    regulation: within(winding.regulation, regulationDoubt),
    diodeOffset: diodeNamed(design.rectifier.diode).dropVolts,
    farads: within(farads, reservoir.tolerance_percent / 100),
    esr: esr === undefined ? share(usualEsr(farads), 0.3, 1.5) : share(esr, 0.7, 1.3),
    // A room is as seldom that much colder as it is warmer; a measured one is known to 2 K.
    ambient: measured === undefined ? plusMinus(typical, highest - typical) : plusMinus(measured, 2),
    // The lid is often off at the first power-up.
    enclosureRise: share(mains.enclosure_rise, 0, 1.5),
  };
}

function railSpreads(rail: Rail, regulator: Regulator, load: LoadState): Record<RailKey, Spread> {
  const tolerance = rail.resistor_tolerance_percent / 100;
  const quiet = rail.adjust_capacitor_uF !== undefined && regulator.rippleRejectionWithCapacitor_dB;
  return {
    volts: regulator.volts,
    r1: within(rail.r1 ?? 0, tolerance),
    r2: within(rail.r2 ?? 0, tolerance),
    adjustAmps: regulator.adjustAmps,
    dropout: regulator.dropout,
    rejection_dB: quiet || regulator.rippleRejection_dB,
    groundAmps: regulator.quiescentAmps,
    loadAmps: within(rail.load[load], LOAD_DOUBT),
    ...coolingSpreads(rail),
  };
}

function coolingSpreads({ cooling }: Rail): Record<'junctionCase' | 'caseSink' | 'toAir', Spread> {
  const { junctionCase, junctionAir } = packageNamed(cooling.package);
  if (cooling.heatsink === 'none') {
    // Makers don't state the rise at which their figure holds; a tenth either way covers 30 to 150 K.
    const toAir = {
      low: junctionAir.low * 0.9 - junctionCase.typical,
      typical: junctionAir.typical - junctionCase.typical,
      high: junctionAir.high * 1.1 - junctionCase.typical,
    };
    return { junctionCase, caseSink: { low: 0, typical: 0, high: 0 }, toAir };
  }
  return {
    junctionCase,
    caseSink: interfaceResistance(cooling.interface, cooling.package),
    toAir: share(cooling.heatsink, HEATSINK_DOUBT.low, HEATSINK_DOUBT.high),
  };
}

function within(value: number, doubt: number): Spread {
  return share(value, 1 - doubt, 1 + doubt);
}

function share(typical: number, low: number, high: number): Spread {
  return { low: typical * low, typical, high: typical * high };
}

function plusMinus(typical: number, by: number): Spread {
  return { low: typical - by, typical, high: typical + by };
}
