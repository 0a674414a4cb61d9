import type { Block } from './fit.js';
import { curveOf } from './grid.js';
import { leftAfter } from './heating.js';

/** The shape that the part's warming has followed so far. */
export interface Course {
  readonly sinceMs: number;
  readonly timeConstantS: number;
  /** Share of the losses by natural convection. */
  readonly convection: number;
  readonly lagS: number;
}

/** Longest list of short blocks that is looked at. */
export const MOST_BLOCKS = 48;
/** Longest list of older, longer blocks before them, that tell where the course was going. */
export const MOST_OLDER = 16;
const MOST_ROWS = MOST_BLOCKS + MOST_OLDER;
/** Time constants after which the shape is an exponential. */
const MATURE = 8;
/** Time constants in which the shape of a quick part isn't known well: a straight line more is allowed. */
const YOUNG = 3;
const QUICK_S = 200;
/** Lags after which nothing is left of the first jump. */
const FADED = 20;

/** One number for each block. */
export const row = (): Float64Array => new Float64Array(MOST_ROWS);
const LEVEL = row();
const SHAPE = row();
const LINE = row();
const FADING = row();
/** Seconds before the newest block, degrees C, and what of them the course doesn't explain; of the newest call. */
export const SECONDS = row();
export const CELSIUS = row();
const UNEXPLAINED = row();

/** A longer block from before the short ones; `scale` says how much better it is known, in deviations of a short one. */
export interface Older {
  readonly atMs: number;
  readonly celsius: number;
  readonly scale: number;
}

/**
 * Least squares of the newest blocks on the course going on: a level, its shape, what the
 * probe still lags behind the first jump, and a line where a quick part is young, made
 * orthogonal to each other (Gram and Schmidt). What follows looks at what is left.
 */
export function fitCourse(
  older: readonly Older[],
  blocks: readonly Block[],
  { sinceMs, timeConstantS: tau, convection, lagS }: Course,
): void {
  const count = older.length + blocks.length;
  const lastMs = blocks.at(-1)!.atMs;
  const heating = curveOf(convection);
  const age = Math.max(0, (lastMs - sinceMs) / 1000 - lagS) / tau;
  for (let at = 0; at < count; at += 1) {
    const isOlder = at < older.length;
    const { atMs, celsius } = isOlder ? older[at]! : blocks[at - older.length]!;
    const scale = isOlder ? older[at]!.scale : 1;
    const seconds = (atMs - lastMs) / 1000;
    SECONDS[at] = seconds;
    CELSIUS[at] = celsius;
    LEVEL[at] = scale;
    SHAPE[at] = scale * leftAfter(heating, Math.max(0, Math.min(age, MATURE) + seconds / tau));
    const lags = (atMs - sinceMs) / 1000 / lagS;
    FADING[at] = lags > FADED ? 0 : scale * Math.exp(-lags);
    LINE[at] = age < YOUNG && tau < QUICK_S ? scale * seconds : 0;
    UNEXPLAINED[at] = scale * celsius;
  }
  normalise(LEVEL, count);
  without(SHAPE, LEVEL, count);
  normalise(SHAPE, count);
  without(FADING, LEVEL, count);
  without(FADING, SHAPE, count);
  normalise(FADING, count);
  without(LINE, LEVEL, count);
  without(LINE, SHAPE, count);
  without(LINE, FADING, count);
  normalise(LINE, count);
  for (const basis of [LEVEL, SHAPE, FADING, LINE]) without(UNEXPLAINED, basis, count);
}

/** Midway between two blocks, s before the newest. */
export function momentOf(place: number): number {
  return (SECONDS[place - 1]! + SECONDS[place]!) / 2;
}

/** A pattern against what the course doesn't explain. */
export interface Match {
  /** Of the pattern and the blocks, of the pattern and itself, both without what the course explains. */
  readonly withBlocks: number;
  readonly withItself: number;
}

/** Of a pattern that is 0 before `place`. */
export function matchOf(pattern: Float64Array, place: number, count: number): Match {
  let withBlocks = 0;
  let square = 0;
  let level = 0;
  let shape = 0;
  let fading = 0;
  let line = 0;
  for (let at = place; at < count; at += 1) {
    const value = pattern[at]!;
    withBlocks += value * UNEXPLAINED[at]!;
    square += value * value;
    level += value * LEVEL[at]!;
    shape += value * SHAPE[at]!;
    fading += value * FADING[at]!;
    line += value * LINE[at]!;
  }
  return { withBlocks, withItself: square - level * level - shape * shape - fading * fading - line * line };
}

function without(of: Float64Array, basis: Float64Array, count: number): void {
  let product = 0;
  for (let at = 0; at < count; at += 1) product += of[at]! * basis[at]!;
  for (let at = 0; at < count; at += 1) of[at]! -= product * basis[at]!;
}

function normalise(of: Float64Array, count: number): void {
  let square = 0;
  for (let at = 0; at < count; at += 1) square += of[at]! * of[at]!;
  const scale = square > 1e-12 ? 1 / Math.sqrt(square) : 0;
  for (let at = 0; at < count; at += 1) of[at]! *= scale;
}
