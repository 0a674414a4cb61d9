import { E12 } from '../../design/parts/series.js';

/** Heatsinks of catalogues, K/W (common practice), the smallest first. */
export const HEATSINKS = [24, 21, 18, 15, 12, 10, 8, 6.8, 5.6, 4.7, 3.9, 3, 2.5, 2, 1.5, 1.2, 1, 0.7, 0.5];

/** Working volts of electrolytics (from memory). */
export const WORKING_VOLTS = [6.3, 10, 16, 25, 35, 50, 63, 80, 100, 160, 200, 250, 350, 400, 450];

/** Ratings of mains transformers, VA (common practice). */
export const TRANSFORMER_VA = [
  1.5, 3, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30, 40, 50, 60, 80, 100, 120, 160, 200, 225, 250, 300, 400, 500,
  625, 800, 1000,
];

/** Secondary volts of mains transformers (common practice). */
export const WINDING_VOLTS = [6, 7.5, 8, 9, 10, 12, 15, 18, 20, 22, 24, 25, 28, 30, 35, 36, 40, 48, 50];

/** Ratings of resistors, W (common practice). */
const RESISTOR_WATTS = [0.25, 0.5, 1, 2, 3, 5, 7, 10, 15, 25, 50, 100, 200];

/** Rated currents of miniature fuses, A: the R10 and R20 steps of IEC 60127-2 (from memory). */
export const FUSE_AMPS = [
  0.032, 0.04, 0.05, 0.063, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2,
  2.5, 3.15, 4, 5, 6.3, 8, 10,
];

/** A resistor's rating of at least twice its heat, since one at its rated watts is too hot to touch (common practice), W. */
export function ratedWatts(heat: number): number {
  return RESISTOR_WATTS.find((rating) => rating >= 2 * heat) ?? Math.ceil(2 * heat);
}

/** E12 values from `low` to `high`, the largest first. */
export function resistorsBetween(low: number, high: number): number[] {
  if (!(low > 0 && high >= low && high < Infinity)) return [];
  const values: number[] = [];
  for (let decade = 10 ** Math.floor(Math.log10(low)); decade <= high; decade *= 10) {
    values.push(...E12.map((digit) => Number((digit * decade).toPrecision(3))));
  }
  return values.filter((value) => value >= low && value <= high).sort((a, b) => b - a);
}

/** E12 capacitances above this one, up to ten times it, the smallest first; in the unit of the argument. */
export function largerCapacities(capacity: number): number[] {
  return resistorsBetween(capacity * 1.001, 10 * capacity).reverse();
}
