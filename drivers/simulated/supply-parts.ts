import type { Design, LoadState } from '../../daemon/design/design.js';
import { plainDesign, type PlainDesign, type PlainRail } from './plain-design.js';
import {
  KNOWN_REGULATORS,
  diodeLaw,
  heatsinkCapacity,
  heatsinkCooling,
  interfaceResistance,
  packagePart,
  regulatorPart,
  usualRegulation,
  usualSeriesResistance,
} from './parts.js';
import type { AirCooling, DiodeLaw, PackagePart, RegulatorPart } from './parts.js';
import { seededRandom } from './random.js';
import type { RandomSource } from './random.js';

/** The parts that lie on the simulated bench: drawn once from the design, then changed only by faults. */
export interface SupplyParts {
  readonly hertz: number;
  /** Air around the enclosure, degrees C, and how much warmer it gets inside, K. */
  readonly ambient: number;
  readonly enclosureRise: number;
  readonly source: SourceParts;
  readonly reservoir: { readonly farads: number; readonly seriesOhms: number; readonly bleedOhms: number };
  readonly rails: ReadonlyMap<string, RailParts>;
}

/** Winding and rectifier as seen from the reservoir. */
export interface SourceParts {
  /** Peak of the open winding at the mains' rated volts, V. */
  readonly peakVolts: number;
  readonly windingOhms: number;
  readonly diode: DiodeLaw;
  readonly diodesInPath: number;
  /** Which half cycles reach the reservoir: with one diode open of two pairs, only every other one. */
  readonly halfCycles: 'both' | 'one' | 'none';
  /** Two halves of a centre-tapped winding take turns. */
  readonly windings: 1 | 2;
}

/** A regulator with its load and its cooling. Volts are magnitudes. */
export interface RailParts {
  readonly sign: 1 | -1;
  /** At a junction of 25 degrees C. */
  readonly setVolts: number;
  readonly drift_perK: number;
  readonly dropoutVolts: number;
  readonly dropoutOhms: number;
  /** Share of the input's ripple that comes through. */
  readonly ripplePassed: number;
  readonly groundAmps: number;
  /** Through the set resistors, added to the load. */
  readonly dividerAmps: number;
  readonly loadAmps: Readonly<Record<LoadState, number>>;
  readonly passesInput: boolean;
  readonly cooling: RailCooling;
}

export interface RailCooling {
  readonly package: PackagePart;
  /** Null for a bare package. */
  readonly heatsink: HeatsinkParts | null;
}

export interface HeatsinkParts {
  /** Case to heatsink, K/W. */
  readonly interface: number;
  /** J/K */
  readonly capacity: number;
  readonly air: AirCooling;
}

/**
 * Seed 0 takes every part at its typical value; any other draws each part within its tolerance.
 * @throws RangeError naming the key of a regulator, or of anything else, that the simulated bench doesn't have.
 */
export function partsFrom(written: Design, seed: number): SupplyParts {
  const design = plainDesign(written);
  const draw = partDraws(seed);
  const rails = Object.entries(design.rails).map(
    ([name, rail]) => [name, railParts(name, rail, draw)] as const,
  );
  return {
    hertz: design.mains.hertz,
    ambient: design.mains.ambient.typical,
    enclosureRise: design.mains.enclosure_rise,
    source: sourceParts(design, draw),
    reservoir: reservoirParts(design.reservoir, draw),
    rails: new Map(rails),
  };
}

interface PartDraws {
  /** A factor near 1, evenly spread within the tolerance. */
  within(share: number): number;
  /** A factor near 1, normally spread, cut off at two and a half standard deviations. */
  about(share: number): number;
}

function partDraws(seed: number): PartDraws {
  if (seed === 0) return { within: () => 1, about: () => 1 };
  const random: RandomSource = seededRandom(seed);
  return {
    within: (share) => 1 + share * (2 * random.uniform() - 1),
    about: (share) => 1 + share * Math.max(-2.5, Math.min(2.5, random.normal())),
  };
}

function sourceParts(design: PlainDesign, draw: PartDraws): SourceParts {
  const { volts, va, amps, regulation_percent, winding_ohms } = design.transformer;
  const { kind, diode } = design.rectifier;
  const halves = kind === 'centre-tap' ? 2 : 1;
  const ratedAmps = amps ?? (va === undefined ? 1 : va / (halves * volts));
  const usualOhms =
    winding_ohms ??
    ((regulation_percent === undefined
      ? usualRegulation(halves * ratedAmps * volts)
      : regulation_percent / 100) *
      volts) /
      ratedAmps;
  // One half carries all of a pulse: its copper, and the primary's seen through half the turns (common practice).
  const share = halves === 2 && winding_ohms === undefined ? 0.75 : 1;
  const windingOhms = share * usualOhms * draw.about(0.04);
  return {
    peakVolts: Math.SQRT2 * (volts + usualOhms * ratedAmps) * draw.about(0.005),
    windingOhms,
    diode: diodeLaw(diode),
    diodesInPath: kind === 'bridge' ? 2 : 1,
    halfCycles: kind === 'half-wave' ? 'one' : 'both',
    windings: halves,
  };
}

function reservoirParts(reservoir: Design['reservoir'], draw: PartDraws): SupplyParts['reservoir'] {
  const nominalFarads = reservoir.capacity_uF * 1e-6;
  const seriesOhms = reservoir.esr ?? usualSeriesResistance(nominalFarads);
  return {
    farads: nominalFarads * draw.about(reservoir.tolerance_percent / 100 / 2.5),
    seriesOhms: seriesOhms * draw.within(0.3),
    bleedOhms: (reservoir.bleed ?? Infinity) * draw.within(0.05),
  };
}

function railParts(name: string, rail: PlainRail, draw: PartDraws): RailParts {
  if (rail.from !== 'reservoir') {
    throw new RangeError(
      `rails.${name}.from: found "${rail.from}"; the simulated bench feeds every rail from the reservoir`,
    );
  }
  const part = regulatorNamed(rail.regulator, `rails.${name}.regulator`);
  const volts = part.volts * draw.about(part.voltsSpread);
  const tolerance = rail.resistor_tolerance_percent / 100;
  const r1 = (rail.r1 ?? 240) * draw.within(tolerance);
  const r2 = (rail.r2 ?? 0) * draw.within(tolerance);
  const quietened = (rail.adjust_capacitor_uF ?? 0) > 0;
  const rejection_dB = quietened ? part.rippleRejectionWithCapacitor_dB : part.rippleRejection_dB;
  const loadFactor = draw.about(0.01);
  return {
    sign: part.sign,
    setVolts: part.adjustable ? volts * (1 + r2 / r1) + part.groundAmps * r2 : volts,
    drift_perK: part.drift_perK,
    dropoutVolts: part.dropoutVolts,
    dropoutOhms: part.dropoutOhms,
    ripplePassed: 10 ** (-(rejection_dB + 20 * Math.log10(draw.about(0.1))) / 20),
    groundAmps: part.groundAmps * draw.about(0.1),
    dividerAmps: part.adjustable ? volts / r1 : 0,
    loadAmps: {
      idle: rail.load.idle * loadFactor,
      typical: rail.load.typical * loadFactor,
      full: rail.load.full * loadFactor,
    },
    passesInput: false,
    cooling: coolingParts(rail.cooling, draw),
  };
}

function regulatorNamed(part: string, key: string): RegulatorPart {
  const found = regulatorPart(part);
  if (found) return found;
  throw new RangeError(`${key}: found "${part}"; the simulated bench has ${KNOWN_REGULATORS}`);
}

function coolingParts(cooling: PlainRail['cooling'], draw: PartDraws): RailCooling {
  const body = packagePart(cooling.package);
  if (cooling.heatsink === 'none') return { package: body, heatsink: null };
  const resistance = cooling.heatsink * draw.about(0.04);
  return {
    package: body,
    heatsink: {
      interface: interfaceResistance(cooling.interface, cooling.package) * draw.within(0.2),
      capacity: cooling.heat_capacity ?? heatsinkCapacity(cooling.heatsink),
      air: heatsinkCooling(resistance),
    },
  };
}
