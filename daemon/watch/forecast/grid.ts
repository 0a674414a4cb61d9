import { heatingCurve, leftAfter, type HeatingCurve } from './heating.js';

/** Slowest time constants that a part on a bench has, s: a bare TO-92 in a draught, a heavy extrusion. */
export const SHORTEST_S = 16;
export const LONGEST_S = 4000;

/** Curves at even steps of the share of losses by natural convection; between two of them it is a mix. */
const STEP = 0.1;
const MOST = 1.5;
const CURVES: readonly HeatingCurve[] = Array.from({ length: MOST / STEP + 1 }, (_, place) =>
  heatingCurve(place * STEP),
);

/** The nearest of them. */
export function curveOf(convection: number): HeatingCurve {
  const place = Math.round(Math.max(0, Math.min(MOST, convection)) / STEP);
  return CURVES[place]!;
}

/** A mix of two shares, between which 1 - x is nearly a straight line. */
export interface Mix {
  readonly none: number;
  readonly all: number;
}

/** From cold: radiation and natural convection come close to all, conduction along leads takes some (McAdams). */
export const COLD: Mix = { none: 0.5, all: 1.1 };
/** From one warm state to the next, losses are closer to proportional. */
export const WARM: Mix = { none: 0, all: 0.6 };

/** 1 - x after `u` time constants, `share` of the way from one to the other. */
export function mixedLeft({ none, all }: Mix, share: number, u: number): number {
  const left = leftAfter(curveOf(none), u);
  return left + share * (leftAfter(curveOf(all), u) - left);
}
