import { heatingCurve, type HeatingCurve } from './heating.js';

/**
 * The curves that a warming is compared with: each a slowest time constant, a share of losses by natural convection, and
 * how far the probe lags behind the case.
 */
const SHORTEST_S = 18;
const LONGEST_S = 3600;
const COUNT = 36;

/** s */
export const TAUS: readonly number[] = Array.from(
  { length: COUNT },
  (_, index) => SHORTEST_S * (LONGEST_S / SHORTEST_S) ** (index / (COUNT - 1)),
);

/** A fan leaves little of it; in still air convection and radiation together come close to all (McAdams). */
export const CONVECTIONS: readonly number[] = [0, 0.6, 0.9, 1.2];

/** From a bead under a clip to one in a blob of paste (common practice), s. */
export const LAGS: readonly number[] = [1.5, 3.2, 6.8];

const SHAPE_OF = CONVECTIONS.map(heatingCurve);

export const SHAPES = TAUS.length * CONVECTIONS.length;
export const CURVES = SHAPES * LAGS.length;

/** Of a shape's place: its time constant comes first, of a curve's: its shape. */
export const shapeOf = (curve: number): number => Math.floor(curve / LAGS.length);
export const tauOf = (shape: number): number => TAUS[Math.floor(shape / CONVECTIONS.length)]!;
export const heatingOf = (shape: number): HeatingCurve => SHAPE_OF[shape % CONVECTIONS.length]!;
