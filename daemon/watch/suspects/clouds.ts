import type { Design } from '../../design/design.js';
import { quantiles } from '../../predict/cloud/quantiles.js';
import { drawModelCloud } from '../../predict/engine/model-cloud.js';
import { describeDesign } from '../../predict/engine/description.js';
import { faultModels } from '../../predict/engine/faults.js';
import type { SupplyFault } from '../../predict/engine/faults.js';
import { supplyModel } from '../../predict/engine/model.js';
import { SupplyError } from '../../predict/engine/supply-error.js';
import type { Load, SupplyDescription } from '../../predict/engine/supply.js';
import type { PointUnit, PredictOptions } from '../../predict/prediction.js';
import type { SupplyCloud } from '../../predict/supply-cloud.js';

/** The word for having no fault at all. */
export const HEALTHY = 'healthy';

/** The frequency of the reservoir's ripple: not a test point of the design, but a scope shows it. */
export const RIPPLE_HERTZ = 'reservoir.hertz';

/** What supplies with one fault, or none, read at each point. */
export interface SuspectCloud {
  /** Stable word, `diode-open`; `healthy` for none. */
  readonly fault: string;
  /** The part or rail that has it; empty for the healthy one. */
  readonly about: string;
  /** For a person. */
  readonly title: string;
  /**
   * The same fault under different loads; each a cloud for each size of the fault, the smallest first, or one only
   * where it is all or nothing.
   */
  readonly runs: readonly (readonly SizeCloud[])[];
}

/** Supplies that have the fault at one size. */
export interface SizeCloud {
  readonly cloud: SupplyCloud;
  readonly units: Readonly<Record<string, PointUnit>>;
  /** Resistance of the winding as the reservoir sees it, ohm, of each draw. */
  readonly windingOhms: Float64Array;
}

export interface SuspectCloudOptions extends PredictOptions {
  /** Of each size of a fault; four times as many where there is only one size. */
  readonly draws?: number;
}

/** Enough for the covariance of some ten test points to 6 %. */
const DRAWS = 256;
const DRAWS_OF_ONE_SIZE = 4;
const SIZES = 8;

/**
 * The smallest size at which a fault is one: below it a supply is within its tolerance, or works all the same. Faults
 * that are all or nothing don't stand here (common practice: a loose screw, a capacitor that has lost a third, a
 * resistor of the next decade).
 */
const SMALLEST: Readonly<Record<string, number>> = {
  'tap-too-high': 0.2,
  'tap-too-low': 0.3,
  'reservoir-dried': 0.5,
  overload: 0.25,
  'heatsink-loose': 0.4,
  'sensor-off': 0.5,
  'r2-too-large': 0.1,
  'r2-too-small': 0.1,
};

const MOVES_VOLTS: ReadonlySet<string> = new Set([
  'tap-too-high',
  'tap-too-low',
  'regulator-passes-input',
  'adjust-open',
  'adjust-grounded',
  'r2-too-large',
  'r2-too-small',
  'overload',
]);

/**
 * The healthy cloud, then that of every known fault at every size, one after the other so that the caller can do
 * something else between them. Faults without a steady state are left out: nothing settles that could be measured.
 */
export function* suspectClouds(design: Design, options: SuspectCloudOptions): Generator<SuspectCloud> {
  const supply = describeDesign(design, options);
  const { load, seed = 0, draws = DRAWS } = options;
  const draw = (changed: SupplyDescription, at: number, count: number): SizeCloud => {
    const model = supplyModel(changed, load);
    const cloud = drawModelCloud(model, { draws: count, seed: seed + at });
    const units = Object.fromEntries(model.outputs.map((id, k) => [id, model.units[k]!] as const));
    return withHertz({ cloud, units, windingOhms: windingOhms(changed, cloud) }, changed);
  };
  const alone = draws * DRAWS_OF_ONE_SIZE;
  const healthy = draw(supply, 0, alone);
  yield { fault: HEALTHY, about: '', title: 'nothing is wrong', runs: [[healthy]] };
  for (const each of faultModels(supply)) {
    const { fault, about, title } = each;
    const sizes = sizesOf(each);
    const count = sizes.length > 1 ? draws : alone;
    const run = sizes.flatMap((size, at) => {
      const changed = each.apply(size);
      return steady(() => ({ changed, at, drawn: draw(changed, at, count) }));
    });
    const runs = [run.map(({ drawn }) => drawn)];
    if (MOVES_VOLTS.has(fault)) {
      runs.push(
        run.flatMap(({ changed, at, drawn }) =>
          steady(() => draw(withResistors(changed, drawn.cloud, healthy.cloud), at, count)),
        ),
      );
    }
    const found = runs.filter(({ length }) => length > 0);
    if (found.length > 0) yield { fault, about, title, runs: found };
  }
}

/**
 * A load written in amps draws them at its rail's volts; nobody wrote what it draws at others. A module holds its
 * current, a lamp is nearer to a resistor (common practice), so faults that move the volts are drawn with either: this
 * is the supply whose loads draw as much more or less as its volts are off.
 */
function withResistors(
  supply: SupplyDescription,
  faulty: SupplyCloud,
  healthy: SupplyCloud,
): SupplyDescription {
  const rails = supply.rails.map((rail) => {
    const factor = Math.abs(medianOf(faulty, `${rail.name}.volts`) / medianOf(healthy, `${rail.name}.volts`));
    const drawn = ({ amps, ohms }: Load): Load => ({
      amps: {
        name: amps.name,
        low: amps.low * factor,
        typical: amps.typical * factor,
        high: amps.high * factor,
      },
      ohms,
    });
    const { idle, typical, full } = rail.load;
    return { ...rail, load: { idle: drawn(idle), typical: drawn(typical), full: drawn(full) } };
  });
  return { ...supply, rails };
}

function medianOf({ results }: SupplyCloud, id: string): number {
  return quantiles(results[id]!, [0.5])[0]!;
}

function sizesOf({ fault, graded }: SupplyFault): number[] {
  const smallest = SMALLEST[fault];
  if (!graded || smallest === undefined) return [1];
  return Array.from({ length: SIZES }, (_, at) => smallest + ((1 - smallest) * at) / (SIZES - 1));
}

function steady<Result>(draw: () => Result): Result[] {
  try {
    return [draw()];
  } catch (error) {
    if (error instanceof SupplyError) return [];
    throw error;
  }
}

/** Two pulses a mains cycle from a full-wave rectifier, one from half of it. */
function withHertz(size: SizeCloud, { mains, rectifier }: SupplyDescription): SizeCloud {
  const oneHalf = rectifier.kind === 'half-wave' || rectifier.oneDiodeOpen;
  const hertz = new Float64Array(size.cloud.draws).fill(mains.hertz * (oneHalf ? 1 : 2));
  const results = { ...size.cloud.results, [RIPPLE_HERTZ]: hertz };
  return { ...size, cloud: { ...size.cloud, results }, units: { ...size.units, [RIPPLE_HERTZ]: 'Hz' } };
}

/** Regulation x volts / amps, see `TransformerDescription`. */
function windingOhms(
  { transformer }: SupplyDescription,
  { names, inputs, draws }: SupplyCloud,
): Float64Array {
  const { ratedAmps, ohmsShare, wiringOhms, regulation, secondaryVolts } = transformer;
  const regulations = inputs[names.indexOf(regulation.name)];
  const volts = inputs[names.indexOf(secondaryVolts.name)];
  return Float64Array.from({ length: draws }, (_, draw) => {
    const share = regulations?.[draw] ?? regulation.typical;
    const secondary = volts?.[draw] ?? secondaryVolts.typical;
    return (ohmsShare * share * secondary) / ratedAmps + wiringOhms;
  });
}
