import type { LoadState } from '../../design/design.js';
import type { PartFigures, PointUnit } from '../prediction.js';
import type { SpreadShare, SupplyCloud } from '../supply-cloud.js';
import { cloudBands } from '../supply-cloud.js';
import { worstCorners } from './corners.js';
import type { Corner } from './corners.js';
import { partFigures } from './figures.js';
import { supplyModel } from './model.js';
import type { SupplyModel } from './model.js';
import { drawModelCloud } from './model-cloud.js';
import type { SupplyDescription } from './supply.js';

/** A power of two, which Sobol' points cover most evenly; keeps a prediction well within a second. */
export const USUAL_DRAWS = 2048;

export interface SupplyOptions {
  readonly load: LoadState;
  /** Default 0. */
  readonly seed?: number;
  /** Default `USUAL_DRAWS`. */
  readonly draws?: number;
}

/** What one test point should read. */
export interface SupplyPoint {
  readonly unit: PointUnit;
  /** Every number as written. */
  readonly nominal: number;
  /** 95 % of the cloud lie between `low` and `high`, which hold the nominal too; `typical` is its median. */
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  readonly worst: { readonly low: Corner; readonly high: Corner };
  /** What the spread comes from, largest first. */
  readonly shares: readonly SpreadShare[];
}

export interface SupplyPrediction {
  readonly points: Readonly<Record<string, SupplyPoint>>;
  readonly parts: Readonly<Record<string, PartFigures>>;
  readonly cloud: SupplyCloud;
  readonly model: SupplyModel;
}

/**
 * Predicts every test point and part of a supply. The same seed gives the same numbers.
 * @throws {SupplyError} for a contradictory description, or naming the circuit that has no steady state.
 */
export function predictSupply(description: SupplyDescription, options: SupplyOptions): SupplyPrediction {
  const { load, seed = 0, draws = USUAL_DRAWS } = options;
  const model = supplyModel(description, load);
  const cloud = drawModelCloud(model, { draws, seed });
  const bands = cloudBands(cloud);
  const corners = worstCorners(model);
  const nominal = new Float64Array(model.outputs.length);
  model.evaluate(model.typicalDraw(), nominal);
  const points = model.outputs.map((id, k) => {
    const band = bands[id]!;
    const value = nominal[k]!;
    const low = Math.min(band.low, value);
    const high = Math.max(band.high, value);
    const corner = corners[id]!;
    const point: SupplyPoint = {
      unit: model.units[k]!,
      nominal: value,
      low,
      typical: band.typical,
      high,
      worst: {
        low: { ...corner.low, value: Math.min(corner.low.value, low) },
        high: { ...corner.high, value: Math.max(corner.high.value, high) },
      },
      shares: band.shares,
    };
    return [id, point] as const;
  });
  return { points: Object.fromEntries(points), parts: partFigures(model), cloud, model };
}
