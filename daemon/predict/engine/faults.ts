import type { LoadState } from '../../design/design.js';
import type {
  AdjustableDescription,
  CoolingDescription,
  Load,
  LoadDescription,
  RailDescription,
  ReservoirDescription,
  SupplyDescription,
  Uncertain,
} from './supply.js';

/** A known fault of one supply, as a change to its description. */
export interface SupplyFault {
  /** Stable word, `heatsink-missing`. */
  readonly fault: string;
  /** The part or rail that has it. */
  readonly about: string;
  /** For a person: `the lamps regulator stands without its heatsink`. */
  readonly title: string;
  /** Whether there is something between healthy and the whole fault; else any size above 0 is the whole fault. */
  readonly graded: boolean;
  /**
   * The supply with this fault, at a size from 0 (healthy: the same description) to 1 (the whole fault). Its uncertain
   * numbers keep their names and order, so that clouds of the same seed differ by the fault alone.
   * @throws {RangeError} for a size outside 0 to 1.
   */
  readonly apply: (size: number) => SupplyDescription;
}

type Change = (size: number) => SupplyDescription;

/** A capacitor that has dried up keeps a third of its capacitance, and has several times its ESR (from memory). */
const DRIED_LOSS = 2 / 3;
const DRIED_ESR = 5;
/** A screw that holds nothing leaves an air gap: some 8 K/W more under a TO-220 (from memory). */
const LOOSE_RESISTANCE = 8;
/** What an overloaded rail draws on top, as a multiple of its full load. */
const OVERLOAD = 2;
/** A probe that fell off hangs in the air near the part (from memory: a tenth of the rise is left). */
const OFF_CONTACT = 0.1;
/** A transformer for 115 V on 230 V mains, or the other way round. */
const WRONG_TAP = 2;
/** A ring misread by one power of ten. */
const WRONG_DECADE = 10;
/** Open is not quite infinite: flux and a board conduct, ohm. */
const OPEN_OHMS = 1e6;

/** Every known fault that this supply can have. */
export function faultModels(supply: SupplyDescription): SupplyFault[] {
  return [
    ...rectifierFaults(supply),
    ...tapFaults(supply),
    ...reservoirFaults(supply),
    ...filterFaults(supply),
    ...supply.rails.flatMap((rail) => railFaults(supply, rail)),
  ];
}

function faultOf(
  supply: SupplyDescription,
  { fault, about, title, graded }: Omit<SupplyFault, 'apply'>,
  change: Change,
): SupplyFault {
  const apply = (size: number): SupplyDescription => {
    if (!(size >= 0 && size <= 1)) throw new RangeError(`a fault's size lies between 0 and 1; it is ${size}`);
    return size === 0 ? supply : change(size);
  };
  return { fault, about, title, graded, apply };
}

/** With its only diode open, a half-wave supply is dead: that needs no model. */
function rectifierFaults(supply: SupplyDescription): SupplyFault[] {
  if (supply.rectifier.kind === 'half-wave') return [];
  const words = { fault: 'diode-open', about: 'rectifier', title: 'one diode of the rectifier is open' };
  return [
    faultOf(supply, { ...words, graded: false }, () => ({
      ...supply,
      rectifier: { ...supply.rectifier, oneDiodeOpen: true },
    })),
  ];
}

function tapFaults(supply: SupplyDescription): SupplyFault[] {
  const { transformer } = supply;
  const withVolts = (factor: number): SupplyDescription => ({
    ...supply,
    transformer: { ...transformer, secondaryVolts: scaled(transformer.secondaryVolts, factor) },
  });
  const about = 'transformer';
  return [
    faultOf(
      supply,
      { fault: 'tap-too-high', about, title: 'wrong tap: up to twice the winding volts', graded: true },
      (size) => withVolts(1 + size * (WRONG_TAP - 1)),
    ),
    faultOf(
      supply,
      { fault: 'tap-too-low', about, title: 'wrong tap: down to half the winding volts', graded: true },
      (size) => withVolts(1 - size * (1 - 1 / WRONG_TAP)),
    ),
  ];
}

function reservoirFaults(supply: SupplyDescription): SupplyFault[] {
  const { negativeReservoir } = supply;
  const dried = (part: ReservoirDescription, size: number): ReservoirDescription => ({
    ...part,
    farads: scaled(part.farads, 1 - size * DRIED_LOSS),
    esr: scaled(part.esr, 1 + size * (DRIED_ESR - 1)),
  });
  const words = { fault: 'reservoir-dried', graded: true };
  const positive = faultOf(
    supply,
    { ...words, about: 'reservoir', title: 'the reservoir has dried up to a third' },
    (size) => ({ ...supply, reservoir: dried(supply.reservoir, size) }),
  );
  if (negativeReservoir === undefined) return [positive];
  const title = 'the negative reservoir has dried up to a third';
  const negative = faultOf(supply, { ...words, about: 'negative-reservoir', title }, (size) => ({
    ...supply,
    negativeReservoir: dried(negativeReservoir, size),
  }));
  return [positive, negative];
}

function filterFaults(supply: SupplyDescription): SupplyFault[] {
  const { filter } = supply;
  if (filter === undefined || filter.kind === 'rc') return [];
  const title = "the filter's follower has failed short and passes the ripple";
  return [
    faultOf(supply, { fault: 'follower-shorted', about: 'filter', title, graded: false }, () => ({
      ...supply,
      filter: { ...filter, shorted: true },
    })),
    ...coolingFaults(supply, 'filter', filter.cooling, (cooling) => ({
      ...supply,
      filter: { ...filter, cooling },
    })),
  ];
}

function railFaults(supply: SupplyDescription, rail: RailDescription): SupplyFault[] {
  const { name, regulator } = rail;
  const withRail = (change: Partial<RailDescription>): SupplyDescription => ({
    ...supply,
    rails: supply.rails.map((each) => (each.name === name ? { ...each, ...change } : each)),
  });
  const adjustable = regulator.kind === 'adjustable' ? adjustFaults(supply, name, regulator, withRail) : [];
  const cooling =
    regulator.kind === 'given'
      ? []
      : coolingFaults(supply, name, rail.cooling, (cooling) => withRail({ cooling }));
  return [
    faultOf(
      supply,
      {
        fault: 'regulator-passes-input',
        about: name,
        title: `the ${name} regulator has failed short and passes its input`,
        graded: false,
      },
      () => withRail({ passesInput: true }),
    ),
    ...adjustable,
    faultOf(
      supply,
      { fault: 'overload', about: name, title: `the ${name} rail is overloaded`, graded: true },
      (size) => withRail({ load: overloaded(rail.load, size) }),
    ),
    ...cooling,
  ];
}

function adjustFaults(
  supply: SupplyDescription,
  about: string,
  regulator: AdjustableDescription,
  withRail: (change: Partial<RailDescription>) => SupplyDescription,
): SupplyFault[] {
  const withR2 = (change: (ohms: number) => number): SupplyDescription =>
    withRail({ regulator: { ...regulator, r2: mapped(regulator.r2, change) } });
  const graded = true;
  return [
    faultOf(
      supply,
      { fault: 'adjust-open', about, title: `R2 of the ${about} regulator is open`, graded },
      (size) => withR2((ohms) => (size < 1 ? Math.min(OPEN_OHMS, ohms / (1 - size)) : OPEN_OHMS)),
    ),
    faultOf(
      supply,
      {
        fault: 'adjust-grounded',
        about,
        title: `the adjust pin of the ${about} regulator is grounded`,
        graded,
      },
      (size) => withR2((ohms) => ohms * (1 - size)),
    ),
    faultOf(
      supply,
      {
        fault: 'r2-too-large',
        about,
        title: `R2 of the ${about} regulator is up to ten times too large`,
        graded,
      },
      (size) => withR2((ohms) => ohms * WRONG_DECADE ** size),
    ),
    faultOf(
      supply,
      { fault: 'r2-too-small', about, title: `R2 of the ${about} regulator is down to a tenth`, graded },
      (size) => withR2((ohms) => ohms * WRONG_DECADE ** -size),
    ),
  ];
}

function coolingFaults(
  supply: SupplyDescription,
  about: string,
  cooling: CoolingDescription,
  withCooling: (cooling: CoolingDescription) => SupplyDescription,
): SupplyFault[] {
  const part = about === 'filter' ? 'pass device of the filter' : `${about} regulator`;
  const off = faultOf(
    supply,
    { fault: 'sensor-off', about, title: `the probe has come off the case of the ${part}`, graded: true },
    (size) =>
      withCooling({ ...cooling, probeContact: cooling.probeContact * (1 - size * (1 - OFF_CONTACT)) }),
  );
  const { mounting } = cooling;
  if (mounting === null || !mounting.fitted) return [off];
  const missing = faultOf(
    supply,
    { fault: 'heatsink-missing', about, title: `the ${part} stands without its heatsink`, graded: false },
    () => withCooling({ ...cooling, mounting: { ...mounting, fitted: false } }),
  );
  const loose = faultOf(
    supply,
    { fault: 'heatsink-loose', about, title: `the ${part} sits loose on its heatsink`, graded: true },
    (size) => {
      const gap = mapped(mounting.interface, (resistance) => resistance + size * LOOSE_RESISTANCE);
      return withCooling({ ...cooling, mounting: { ...mounting, interface: gap } });
    },
  );
  return [missing, loose, off];
}

/** Every state draws the same on top. */
function overloaded(load: LoadDescription, size: number): LoadDescription {
  const extra = size * OVERLOAD;
  const more = (state: LoadState): Load => {
    const { amps, ohms } = load[state];
    const conductance = 1 / ohms + extra / load.full.ohms;
    return { amps: shifted(amps, load.full.amps, extra), ohms: 1 / conductance };
  };
  return { idle: more('idle'), typical: more('typical'), full: more('full') };
}

function shifted(value: Uncertain, by: Uncertain, factor: number): Uncertain {
  return {
    name: value.name,
    low: value.low + factor * by.low,
    typical: value.typical + factor * by.typical,
    high: value.high + factor * by.high,
  };
}

function scaled(value: Uncertain, factor: number): Uncertain {
  return mapped(value, (number) => number * factor);
}

function mapped({ name, low, typical, high }: Uncertain, change: (value: number) => number): Uncertain {
  return { name, low: change(low), typical: change(typical), high: change(high) };
}
