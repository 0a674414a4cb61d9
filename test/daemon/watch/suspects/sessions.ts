import type { Settled } from '../../../../daemon/watch/suspects/settled.js';
import type { Design, LoadState } from '../../../../daemon/design/design.js';
import { startCircuit } from '../../../../drivers/simulated/circuit.js';
import type { CycleFigures } from '../../../../drivers/simulated/circuit.js';
import { faultNamed, passInput } from '../../../../drivers/simulated/faults.js';
import { coldState, heatFor } from '../../../../drivers/simulated/heat.js';
import { seededRandom } from '../../../../drivers/simulated/random.js';
import type { RandomSource } from '../../../../drivers/simulated/random.js';
import { partsFrom } from '../../../../drivers/simulated/supply-parts.js';
import type { RailParts, SupplyParts } from '../../../../drivers/simulated/supply-parts.js';

/** A supply on the simulated bench, with one fault or none, settled and measured all over. */
export interface Session {
  /** `heatsink-loose logic`; `healthy ` for none. */
  readonly truth: string;
  /** In the order of a list from top to bottom. */
  readonly settled: readonly Settled[];
  readonly mainsVolts: number;
  readonly farads: number;
}

/** A fault as a person makes it. */
export interface BenchFault {
  readonly fault: string;
  readonly about: string;
}

const RAIL_FAULTS = [
  'regulator-passes-input',
  'overload',
  'heatsink-missing',
  'heatsink-loose',
  'sensor-off',
];
const ADJUST_FAULTS = ['adjust-open', 'adjust-grounded', 'r2-too-large', 'r2-too-small'];

/** Every fault that the simulated bench can make of a design. */
export function benchFaults({ rails }: Design): BenchFault[] {
  return [
    { fault: 'diode-open', about: 'rectifier' },
    { fault: 'tap-too-high', about: 'transformer' },
    { fault: 'tap-too-low', about: 'transformer' },
    { fault: 'reservoir-dried', about: 'reservoir' },
    ...Object.keys(rails).flatMap((about) => RAIL_FAULTS.map((fault) => ({ fault, about }))),
    ...Object.entries(rails)
      .filter(([, { r2 }]) => r2 !== undefined)
      .flatMap(([about]) => ADJUST_FAULTS.map((fault) => ({ fault, about }))),
  ];
}

/** Half-widths as meter makers state them, percent and a least amount, for common hand-held meters. */
const METERS: Readonly<Record<string, { readonly share: number; readonly least: number }>> = {
  volts: { share: 0.005, least: 0.01 },
  valley: { share: 0.02, least: 0.05 },
  ripple: { share: 0.03, least: 0.0002 },
  amps: { share: 0.02, least: 0.01 },
  air: { share: 0, least: 1 },
  case: { share: 0.01, least: 1 },
};

/** A supply of the simulated bench, with one fault or none. */
export interface BenchSupply {
  /** `heatsink-loose logic`; `healthy ` for none. */
  readonly truth: string;
  readonly parts: SupplyParts;
  /** Mains volts as a share of the rated ones. */
  readonly mainsFactor: number;
  /** Where a probe on a part's case shows something else than the case: the share of the rise that is left. */
  readonly contacts: ReadonlyMap<string, number>;
  /** For what else is drawn. */
  readonly random: RandomSource;
}

/** One supply of this seed: parts, mains and room drawn within their tolerances, the fault's size too. */
export function supplyOf(
  design: Design,
  load: LoadState,
  struck: BenchFault | null,
  seed: number,
): BenchSupply {
  const random = seededRandom(seed);
  for (let skipped = 0; skipped < 8; skipped += 1) random.uniform();
  const drawn = partsFrom(design, seed);
  const parts = {
    ...drawn,
    ambient: drawn.ambient + 4 * clipped(random),
    enclosureRise: 5 * random.uniform(),
  };
  const mainsFactor = 1 + 0.03 * clipped(random);
  const size = 0.6 + 0.4 * random.uniform();
  return {
    truth: struck === null ? 'healthy ' : `${struck.fault} ${struck.about}`,
    parts: struck === null ? parts : withFault(parts, struck, size, load, mainsFactor),
    mainsFactor,
    contacts: new Map(struck?.fault === 'sensor-off' ? [[`${struck.about}.case`, 1 - 0.9 * size]] : []),
    random,
  };
}

/** Of a common hand-held meter there, as a standard deviation. */
function meterDoubt(point: string, value: number): number {
  const { share, least } = METERS[point.slice(point.lastIndexOf('.') + 1)]!;
  return Math.hypot(share * value, least) / 2;
}

/**
 * One session of this seed, with meters drawn within their tolerances. The circuit is integrated until it is steady and
 * the heat for long enough to settle.
 */
export function sessionOf(design: Design, load: LoadState, struck: BenchFault | null, seed: number): Session {
  const { truth, parts, mainsFactor, contacts, random } = supplyOf(design, load, struck, seed);
  const values = settle(parts, mainsFactor, load);
  const air = parts.ambient + parts.enclosureRise;
  const settled = values.map(([point, value]): Settled => {
    const shown = air + (contacts.get(point) ?? 1) * (value - air);
    const seen = contacts.has(point) ? shown : value;
    const standardUncertainty = meterDoubt(point, seen);
    return { point, value: seen + standardUncertainty * clipped(random), standardUncertainty };
  });
  return { truth, settled, mainsVolts: design.mains.volts * mainsFactor, farads: parts.reservoir.farads };
}

/** Normal, cut off at two and a half standard deviations. */
export function clipped(random: RandomSource): number {
  return Math.max(-2.5, Math.min(2.5, random.normal()));
}

/** Some six time constants of an ordinary small heatsink (common practice: five to fifteen minutes each). */
const SETTLING_SECONDS = 3600;

function settle(parts: SupplyParts, mainsFactor: number, load: LoadState): [string, number][] {
  const air = parts.ambient + parts.enclosureRise;
  let junctions = new Map([...parts.rails.keys()].map((rail) => [rail, air] as const));
  const circuit = startCircuit(parts, parts.source.peakVolts * 0.8);
  let figures: CycleFigures | null = null;
  let heats = new Map([...parts.rails.keys()].map((rail) => [rail, coldState(air)] as const));
  for (const seconds of [SETTLING_SECONDS, SETTLING_SECONDS / 3]) {
    let before = -1;
    for (let cycle = 0; cycle < 2000 && Math.abs(circuit.capacitorVolts - before) > 1e-5; cycle += 1) {
      before = circuit.capacitorVolts;
      figures = circuit.cycle(mainsFactor, load, junctions);
    }
    heats = new Map(
      [...parts.rails].map(([rail, { cooling }]) => {
        const watts = figures!.rails.get(rail)!.dissipation;
        return [rail, heatFor(heats.get(rail)!, cooling, { watts, air }, seconds)] as const;
      }),
    );
    junctions = new Map([...heats].map(([rail, { junction }]) => [rail, junction] as const));
  }
  const { reservoir, windingAmps, rails } = figures!;
  return [
    ['reservoir.volts', reservoir.mean],
    ['reservoir.ripple', reservoir.highest - reservoir.lowest],
    ['reservoir.valley', reservoir.lowest],
    ['transformer.amps', windingAmps],
    ['ambient.air', parts.ambient],
    ...[...rails].flatMap(([rail, { mean, highest, lowest }]): [string, number][] => [
      [`${rail}.volts`, mean],
      [`${rail}.ripple`, highest - lowest],
      [`${rail}.case`, heats.get(rail)!.case],
    ]),
  ];
}

function withFault(
  parts: SupplyParts,
  { fault, about }: BenchFault,
  size: number,
  load: LoadState,
  mainsFactor: number,
): SupplyParts {
  const rail = (change: (part: RailParts) => RailParts): SupplyParts => ({
    ...parts,
    rails: new Map(parts.rails).set(about, change(parts.rails.get(about)!)),
  });
  const withVolts = (factor: number): SupplyParts => ({
    ...parts,
    source: { ...parts.source, peakVolts: parts.source.peakVolts * factor },
  });
  switch (fault) {
    case 'diode-open':
    case 'heatsink-missing':
      return faultNamed(fault).change(parts, about);
    case 'regulator-passes-input':
      return passInput(parts, about);
    case 'tap-too-high':
      return withVolts(1 + size);
    case 'tap-too-low':
      return withVolts(1 - size / 2);
    case 'reservoir-dried': {
      const { farads, seriesOhms, bleedOhms } = parts.reservoir;
      const dried = {
        farads: farads * (1 - (2 / 3) * size),
        seriesOhms: seriesOhms * (1 + 4 * size),
        bleedOhms,
      };
      return { ...parts, reservoir: dried };
    }
    case 'overload':
      return rail((part) => {
        const extra = 2 * size * part.loadAmps.full;
        const { idle, typical, full } = part.loadAmps;
        return { ...part, loadAmps: { idle: idle + extra, typical: typical + extra, full: full + extra } };
      });
    case 'heatsink-loose':
      return rail((part) => {
        const heatsink = part.cooling.heatsink!;
        return {
          ...part,
          cooling: { ...part.cooling, heatsink: { ...heatsink, interface: heatsink.interface + 8 * size } },
        };
      });
    case 'sensor-off':
      return parts;
    case 'adjust-open':
      return rail((part) => atVolts(part, Infinity, parts, load, mainsFactor));
    case 'adjust-grounded':
      return rail((part) => atVolts(part, 1.25, parts, load, mainsFactor));
    case 'r2-too-large':
      return rail((part) =>
        atVolts(part, 1.25 + (part.setVolts - 1.25) * 10 ** size, parts, load, mainsFactor),
      );
    case 'r2-too-small':
      return rail((part) =>
        atVolts(part, 1.25 + (part.setVolts - 1.25) / 10 ** size, parts, load, mainsFactor),
      );
    default:
      throw new Error(`the bench can't make ${fault}`);
  }
}

/** The simulated load is a resistor at its rail's set volts, so it stays that one where the set volts are wrong. */
function atVolts(
  part: RailParts,
  volts: number,
  parts: SupplyParts,
  load: LoadState,
  mainsFactor: number,
): RailParts {
  const ceiling = 0.95 * parts.source.peakVolts * mainsFactor - 2;
  const setVolts = Math.min(volts, ceiling);
  const amps = (part.loadAmps[load] * setVolts) / part.setVolts;
  return { ...part, setVolts, loadAmps: { ...part.loadAmps, [load]: amps } };
}
