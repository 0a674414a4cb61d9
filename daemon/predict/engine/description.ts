import type { Design, Rail } from '../../design/design.js';
import { wantsCentreTap } from '../../design/check-source.js';
import { BARE_MODULE } from '../../design/design-cooling.js';
import { seriesOhms } from '../../design/design-rail.js';
import { polarityOf } from '../../design/feeds.js';
import { diodeOf } from '../../design/own-parts.js';
import { THERMAL_VOLTS } from '../../design/parts/diodes.js';
import { REGULATION_DOUBT, windingOf } from '../../design/parts/transformers.js';
import { mainsVolts } from '../mains.js';
import { usualEsr, WINDING_DOUBT } from '../doubts.js';
import { describeCooling, describeHeatsinks } from './describe-cooling.js';
import { describeFilter } from './describe-filter.js';
import { describeLoad, describeNodeLoad } from './describe-load.js';
import { describeRegulator } from './describe-regulator.js';
import { named, plusMinus, share, within } from './spreads.js';
import type {
  RailDescription,
  RectifierDescription,
  ReservoirDescription,
  SupplyDescription,
  TransformerDescription,
} from './supply.js';

/** What replaces the design's own numbers because the person measured it. */
export interface Measured {
  /** Mains volts RMS. */
  readonly mainsVolts?: number;
  /** Degrees C. */
  readonly ambient?: number;
}

/** A regulation that is written on the label (from memory). */
const WRITTEN_REGULATION_DOUBT = 0.15;

/**
 * A loaded design as the engine's description.
 * @throws {RangeError} for a part that isn't in the library; a loaded design has none such.
 */
export function describeDesign(design: Design, measured: Measured = {}): SupplyDescription {
  const { mains, filter, rails } = design;
  const { typical, highest } = mains.ambient;
  return {
    name: design.design,
    mains: {
      ratedVolts: mains.volts,
      volts: named('mainsVolts', mainsVolts(mains, measured.mainsVolts)),
      hertz: mains.hertz,
    },
    // A room is as seldom that much colder as it is warmer; a measured one is known to 2 K.
    ambient: named(
      'ambient',
      measured.ambient === undefined ? plusMinus(typical, highest - typical) : plusMinus(measured.ambient, 2),
    ),
    // The lid is often off at the first power-up.
    enclosureRise: named('enclosureRise', share(mains.enclosure_rise, 0, 1.5)),
    transformer: transformerOf(design),
    rectifier: rectifierOf(design),
    reservoir: reservoirOf('reservoir', design.reservoir),
    ...negativeReservoirOf(design),
    ...(filter !== undefined && { filter: describeFilter(filter, design) }),
    rails: Object.entries(rails).map(([name, rail]) => railOf(name, rail, design)),
    heatsinks: describeHeatsinks(design),
  };
}

function transformerOf({ transformer, rectifier }: Design): TransformerDescription {
  const winding = windingOf(transformer, rectifier.kind);
  const doubt = winding.regulationFrom === 'usual' ? REGULATION_DOUBT : WRITTEN_REGULATION_DOUBT;
  return {
    windings: wantsCentreTap(rectifier.kind) ? 'centre-tapped' : 'single',
    secondaryVolts: named('windingVolts', within(winding.ratedVolts, WINDING_DOUBT)),
    ratedAmps: winding.ratedAmps,
    regulation: named('regulation', within(winding.regulation, doubt)),
    ohmsShare: winding.ohmsShare,
    wiringOhms: 0,
    ...(transformer.fuse_amps !== undefined && { fuseAmps: transformer.fuse_amps }),
  };
}

function rectifierOf(design: Design): RectifierDescription {
  const { kind, diode } = design.rectifier;
  const part = diodeOf(design);
  if (part === null) throw new RangeError(`diode "${diode}" isn't in the part library`);
  const { law, dropVolts } = part;
  return {
    kind,
    diode: {
      law: 'shockley',
      saturationCurrent: law.is,
      emissionCoefficient: law.n,
      thermalVoltage: THERMAL_VOLTS,
      seriesResistance: law.rs,
    },
    dropOffset: named('diodeOffset', dropVolts),
    oneDiodeOpen: false,
  };
}

/** Letter codes of IEC 60062 go down to -30 %; what is written wider than this lies above: Z is -20 to +80 %. */
const LEAST_CAPACITANCE = 0.5;

function capacitanceOf(farads: number, tolerance: number) {
  return share(farads, Math.max(LEAST_CAPACITANCE, 1 - tolerance), 1 + tolerance);
}

/** The positive reservoir's numbers have plain names; the negative one's capacitor is another sample. */
function reservoirOf(
  node: 'reservoir' | 'negative-reservoir',
  reservoir: Design['reservoir'],
): ReservoirDescription {
  const prefix = node === 'reservoir' ? '' : `${node}.`;
  const farads = reservoir.capacity_uF * 1e-6;
  const { esr, working_volts, ripple_amps } = reservoir;
  return {
    farads: named(`${prefix}farads`, capacitanceOf(farads, reservoir.tolerance_percent / 100)),
    esr: named(`${prefix}esr`, esr === undefined ? share(usualEsr(farads), 0.3, 1.5) : share(esr, 0.7, 1.3)),
    bleedOhms: reservoir.bleed ?? Infinity,
    load: describeNodeLoad(node, reservoir.load),
    ...(working_volts !== undefined && { workingVolts: working_volts }),
    ...(ripple_amps !== undefined && { rippleAmps: ripple_amps }),
  };
}

/** Left out, it is like the positive one, without what hangs on that. */
function negativeReservoirOf({ rectifier, reservoir, negative_reservoir }: Design) {
  if (rectifier.kind !== 'split-bridge') return {};
  const alike = { ...reservoir, load: undefined };
  return { negativeReservoir: reservoirOf('negative-reservoir', negative_reservoir ?? alike) };
}

function railOf(name: string, rail: Rail, design: Design): RailDescription {
  const { low, high } = rail.damage;
  return {
    name,
    polarity: polarityOf(rail, design),
    from: rail.from,
    seriesOhms: seriesOhms(rail),
    regulator: describeRegulator(name, rail, design),
    passesInput: false,
    cooling: describeCooling(name, rail.cooling ?? BARE_MODULE, design),
    load: describeLoad(`${name}.loadAmps`, rail.load),
    damage: { ...(low !== undefined && { low }), ...(high !== undefined && { high }) },
  };
}
