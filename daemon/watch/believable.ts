import type { PointUnit } from '../predict/prediction.js';

/** The least and the most that a bench instrument could show, by unit. */
const RANGES: Readonly<Record<PointUnit, readonly [low: number, high: number]>> = {
  V: [-10_000, 10_000],
  Vrms: [-1, 10_000],
  Vpp: [0, 20_000],
  A: [-1000, 1000],
  Arms: [-1, 1000],
  ohm: [-1000, 1e12],
  degC: [-273.15, 3000],
  Hz: [0, 1e12],
  W: [-1e7, 1e7],
};

/**
 * Whether a reading can be one at all. Our own drivers mark what can't be; a driver from outside or a recording from
 * elsewhere may not have, and the squares and powers that follow would overflow. False for NaN.
 * Common practice: handheld and bench meters end at 1000 V, 20 A and 1 Gohm; -273.15 degC is absolute zero (BIPM, SI
 * brochure).
 */
export function isBelievable(value: number, unit: PointUnit): boolean {
  const [low, high] = RANGES[unit];
  return value >= low && value <= high;
}
