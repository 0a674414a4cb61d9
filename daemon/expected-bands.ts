import type { Design, LoadState } from './design/design.js';
import type { Spread } from './design/parts/spread.js';
import { testPointsOf } from './design/test-points.js';
import { describeDesign } from './predict/engine/description.js';
import { predictSupply, type SupplyPrediction } from './predict/engine/predict-supply.js';
import {
  isThin,
  redrawn,
  unmeasured,
  withMeasurement,
  type MeasuredCloud,
  type Measurement,
} from './predict/engine/measured-cloud.js';
import { columnSpread } from './predict/supply-cloud.js';
import type { PointUnit } from './predict/prediction.js';
import type { ExpectedBand } from './watch/events.js';
import { modelDoubt } from './watch/suspects/scale.js';

/** What is expected in a load state, once this was measured. */
export interface BandQuestion {
  readonly load: LoadState;
  /** One a test point, the oldest first; uncertainties of everything but what the model leaves out. */
  readonly measurements: readonly Measurement[];
}

export interface BandAnswer {
  readonly load: LoadState;
  /** Of every test point, in its unit. */
  readonly bands: Readonly<Record<string, ExpectedBand>>;
  /** The measurements that were taken in: not those that no supply of this design comes near. */
  readonly measured: readonly string[];
}

/** Fewer draws than this say nothing of a 95 % band: then nothing is sharpened further. */
const LEAST_DRAWS = 50;
/** Half a band that covers 95 %, in standard deviations. */
const DEVIATIONS_95 = 1.96;
/** So many digits of a band's edge tell it well beyond its own doubt. */
const DIGITS = 6;

/**
 * Works out expected bands of one design. Each load state's cloud is drawn when it is first asked for and kept.
 * A point's own reading never sharpens its own band: it would always be inside.
 */
export class ExpectedBands {
  readonly #design: Design;
  readonly #seed: number;
  readonly #supplies = new Map<LoadState, SupplyPrediction>();

  constructor(design: Design, seed: number) {
    this.#design = design;
    this.#seed = seed;
  }

  /** @throws {SupplyError} as `predict` does. */
  answer({ load, measurements }: BandQuestion): BandAnswer {
    const supply = this.#supply(load);
    const known = measurements.filter(({ point }) => Object.hasOwn(supply.points, point));
    const all = taken(supply, known);
    const measured = all.measurements.map(({ point }) => point);
    const found = testPointsOf(this.#design).map((id) => {
      const plain = plainBand(supply, id);
      if (measured.length === 0) return [id, plain] as const;
      const band = measured.includes(id) ? bandWithout(supply, all.measurements, id) : bandOf(all, id);
      return [id, band === undefined ? plain : sharpened(plain, band, supply.points[id]!.unit)] as const;
    });
    return { load, measured, bands: Object.fromEntries(found) };
  }

  #supply(load: LoadState): SupplyPrediction {
    const known = this.#supplies.get(load);
    if (known !== undefined) return known;
    const seed = this.#seed;
    const supply = predictSupply(describeDesign(this.#design), { load, seed });
    this.#supplies.set(load, supply);
    return supply;
  }
}

/** The cloud that knows what was measured. What contradicts it is left out, and the newest where too few draws count. */
function taken(supply: SupplyPrediction, measurements: readonly Measurement[]): MeasuredCloud {
  const all = weighed(supply, measurements);
  const fitting = measurements.filter(({ point }) => !all.contradicted.includes(point));
  const fit = fitting.length === measurements.length ? all : weighed(supply, fitting);
  const isUseful = fit.contradicted.length === 0 && fit.weights.effectiveSampleSize >= LEAST_DRAWS;
  return isUseful || fitting.length === 0 ? fit : taken(supply, fitting.slice(0, -1));
}

function weighed(supply: SupplyPrediction, measurements: readonly Measurement[]): MeasuredCloud {
  const plain = measurements.reduce(
    (before, measurement) => withMeasurement(before, withModelDoubt(supply, measurement)),
    unmeasured(supply.cloud),
  );
  return isThin(plain) ? redrawn(supply.model, plain) : plain;
}

function bandWithout(
  supply: SupplyPrediction,
  measurements: readonly Measurement[],
  id: string,
): Spread | undefined {
  const others = taken(
    supply,
    measurements.filter(({ point }) => point !== id),
  );
  return others.measurements.length === 0 ? undefined : bandOf(others, id);
}

function bandOf({ cloud, weights }: MeasuredCloud, id: string): Spread | undefined {
  const column = cloud.results[id];
  return column === undefined ? undefined : columnSpread(column, weights.shares);
}

function withModelDoubt({ points }: SupplyPrediction, measurement: Measurement): Measurement {
  const { point, value, standardUncertainty } = measurement;
  const doubt = modelDoubt(value, points[point]!.unit);
  return { point, value, standardUncertainty: Math.hypot(standardUncertainty, doubt) };
}

function plainBand({ points }: SupplyPrediction, id: string): ExpectedBand {
  const { low, typical, high, unit } = points[id]!;
  const coldest = points['ambient.air']?.low;
  const startsCold = unit === 'degC' && coldest !== undefined && coldest < low;
  return { low, typical, high, ...(startsCold && { coldest }) };
}

/** Never wider than before, and never narrower than what the model leaves out. */
function sharpened(plain: ExpectedBand, band: Spread, unit: PointUnit): ExpectedBand {
  const doubt = DEVIATIONS_95 * modelDoubt(band.typical, unit);
  const low = Math.max(plain.low, rounded(band.typical - Math.hypot(band.typical - band.low, doubt)));
  const high = Math.min(plain.high, rounded(band.typical + Math.hypot(band.high - band.typical, doubt)));
  if (!(low < band.typical && band.typical < high)) return plain;
  return { ...plain, low, typical: rounded(band.typical), high };
}

function rounded(value: number): number {
  return Number(value.toPrecision(DIGITS));
}
