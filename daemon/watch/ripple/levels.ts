import type { Clipping } from './ripple.js';

/** How many samples lie on each of the evenly spaced levels of a quantised capture. */
export interface Levels {
  /** Between two levels, in the samples' own unit. */
  readonly step: number;
  readonly lowest: number;
  readonly counts: Uint32Array;
}

const MOST_LEVELS = 65_536;
/** A level is a whole number of steps to this share of one. */
const WHOLE = 0.02;
/** Samples of plain numbers that are all different aren't quantised as far as one sees. */
const SAMPLES_A_LEVEL = 4;

/** The levels of a capture; null where its samples don't lie on any. */
export function levelsOf(samples: ArrayLike<number>): Levels | null {
  return areWhole(samples) ? levelsOfCounts(samples) : levelsOfVolts(samples);
}

function areWhole(samples: ArrayLike<number>): boolean {
  for (let i = 0; i < samples.length; i += 1) if (!Number.isInteger(samples[i])) return false;
  return true;
}

/** Counts may leave some out, as a converter's of 8 bits in words of 16 does: the step is what all have in common. */
function levelsOfCounts(samples: ArrayLike<number>): Levels | null {
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < samples.length; i += 1) {
    lowest = Math.min(lowest, samples[i]!);
    highest = Math.max(highest, samples[i]!);
  }
  if (!(highest > lowest && highest - lowest < MOST_LEVELS)) return null;
  const all = new Uint32Array(highest - lowest + 1);
  for (let i = 0; i < samples.length; i += 1) all[samples[i]! - lowest]! += 1;
  let step = 0;
  for (let place = 0; place < all.length; place += 1) if (all[place]! > 0) step = commonDivisor(place, step);
  return { step, lowest, counts: all.filter((_, place) => place % step === 0) };
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b);
}

function levelsOfVolts(samples: ArrayLike<number>): Levels | null {
  const sorted = Float64Array.from(samples).sort();
  const distinct = sorted.filter((value, i) => value !== sorted[i - 1]);
  if (distinct.length * SAMPLES_A_LEVEL > samples.length) return null;
  const lowest = distinct[0]!;
  const step = smallestGap(distinct);
  const places = Math.round((distinct[distinct.length - 1]! - lowest) / step) + 1;
  if (!(places > 1 && places <= MOST_LEVELS)) return null;
  const counts = new Uint32Array(places);
  for (const value of sorted) {
    const steps = (value - lowest) / step;
    const place = Math.round(steps);
    if (Math.abs(steps - place) > WHOLE) return null;
    counts[place]! += 1;
  }
  return { step, lowest, counts };
}

/** Smallest distance of neighbours, rounding errors of the numbers left out. */
function smallestGap(distinct: Float64Array): number {
  const span = distinct[distinct.length - 1]! - distinct[0]!;
  let smallest = Infinity;
  for (let i = 1; i < distinct.length; i += 1) {
    const gap = distinct[i]! - distinct[i - 1]!;
    if (gap > 1e-9 * span) smallest = Math.min(smallest, gap);
  }
  return smallest;
}

/** Fewer levels than this don't tell a flat top from a clipped one. */
const FEWEST_LEVELS = 12;
/**
 * The last level of an unclipped bend holds at most 1 / (√2 - 1) = 2.4 times as many samples as the one before, the
 * first of a parabola. Beyond the first of these factors it is clipped at an end of the range, beyond the second
 * anywhere.
 */
const AT_RANGE_END = 3;
const ANYWHERE = 8;
const FEWEST_SAMPLES = 3;

/** Shares of the samples on an outermost level that holds more than any waveform puts there; null: neither does. */
export function clippingOf({ counts, lowest, step }: Levels): Clipping | null {
  if (counts.length < FEWEST_LEVELS) return null;
  const highest = lowest + (counts.length - 1) * step;
  const total = counts.reduce((sum, count) => sum + count, 0);
  const low = isPiledUp(counts, isRangeEnd(lowest, step)) ? counts[0]! / total : 0;
  const high = isPiledUp(counts.slice().reverse(), isRangeEnd(highest, step))
    ? counts[counts.length - 1]! / total
    : 0;
  return low > 0 || high > 0 ? { low, high } : null;
}

function isPiledUp(fromOutermost: Uint32Array, atRangeEnd: boolean): boolean {
  const outermost = fromOutermost[0]!;
  const next = Math.max(...fromOutermost.subarray(1, 4));
  return outermost >= FEWEST_SAMPLES && outermost > (atRangeEnd ? AT_RANGE_END : ANYWHERE) * next;
}

/** Converters end at 0, at a power of two or one step below it, on either side of 0. */
function isRangeEnd(value: number, step: number): boolean {
  const steps = Math.abs(value / step);
  if (Math.abs(steps - Math.round(steps)) > WHOLE) return false;
  const power = Math.log2(Math.round(steps));
  const above = Math.log2(Math.round(steps) + 1);
  return Math.round(steps) === 0 || (steps > 63 && (Number.isInteger(power) || Number.isInteger(above)));
}
