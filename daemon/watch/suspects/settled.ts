import type { PointUnit } from '../../predict/prediction.js';
import type { MeasurablePoint } from './model.js';
import { modelDoubt, scaled, scaledAmount } from './scale.js';

/** A settled reading on one test point. */
export interface Settled {
  readonly point: string;
  /** In the point's unit. */
  readonly value: number;
  /** Of the meter, 0 where nothing is known of it; in the point's unit. */
  readonly standardUncertainty: number;
}

/** What the shape of a ripple may be off, as a standard deviation's share of its peak-to-peak. */
const SHAPE_SHARE = 0.05;

/** The doubt of a reading that comes from the ripple's shape, in the point's unit; none for other readings. */
export function shapeDoubt(value: number, unit: PointUnit | undefined): number {
  return unit === 'Vpp' ? SHAPE_SHARE * value : 0;
}

/** A settled reading on the scale of its point. */
export interface Mark {
  /** The point's place in the model. */
  readonly place: number;
  readonly value: number;
  /** Standard deviation: meter and model. */
  readonly doubt: number;
  /** How much of the scale a small step in the point's unit is, there. */
  readonly perUnit: number;
}

/**
 * Settled readings on the scales of their points, in their order; of one point the latest counts, and points that no
 * probe reaches are left out.
 * @throws {RangeError} for numbers that can't weigh anything.
 */
export function marksOf(points: readonly MeasurablePoint[], settled: readonly Settled[]): Mark[] {
  const marks = new Map<number, Mark>();
  for (const { point, value, standardUncertainty } of settled) {
    if (!Number.isFinite(value) || !(standardUncertainty >= 0 && standardUncertainty < Infinity)) {
      throw new RangeError(
        `${point}: a settled reading must be a finite number with an uncertainty of 0 or more, ` +
          `not ${value} with ${standardUncertainty}; leave it out`,
      );
    }
    const place = points.findIndex(({ id }) => id === point);
    if (place < 0) continue;
    const { unit, scale } = points[place]!;
    const doubt = Math.hypot(standardUncertainty, modelDoubt(value, unit));
    const perUnit = scaledAmount(1, value, scale);
    marks.delete(place);
    marks.set(place, { place, value: scaled(value, scale), doubt: doubt * perUnit, perUnit });
  }
  return [...marks.values()];
}
