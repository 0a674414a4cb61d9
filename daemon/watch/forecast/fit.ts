import { LONGEST_S, SHORTEST_S } from './grid.js';
import { remember, type Remembered } from './history.js';

/** Temperatures since the supply came on, or since something changed. Plain data. */
export interface WarmingFit {
  /** Session time at which this warming began, ms. */
  readonly sinceMs: number;
  readonly startC: number;
  /** How well the temperature at the start is known, K. */
  readonly startDeviationK: number;
  /** Of the newest block, s since the start. */
  readonly ageS: number;
  readonly blocks: number;
  /** One count of the probe, K. */
  readonly countK: number;
  readonly history: readonly Remembered[];
  /** Where the time constants and lags that are still likely lie. */
  readonly window: Window;
}

/** Of the logarithms of the time constants, and of the probe's lag. */
export interface Window {
  readonly tau: Lattice;
  readonly lag: Lattice;
}

/** `count` even steps about a middle. */
export interface Lattice {
  readonly middle: number;
  readonly step: number;
  readonly count: number;
}

/** A block of readings. */
export interface Block {
  readonly atMs: number;
  readonly celsius: number;
  /** Of the block's mean, K². */
  readonly variance: number;
}

const FIRST_STEP = 0.24;
/** From a bead under a clip to one in a blob of paste (common practice), s. */
const LAGS_S = [1, 10] as const;

const WIDEST: Window = {
  tau: between(SHORTEST_S, LONGEST_S, FIRST_STEP),
  lag: { middle: (Math.log(LAGS_S[0]) + Math.log(LAGS_S[1])) / 2, step: 0.58, count: 5 },
};

function between(low: number, high: number, step: number): Lattice {
  const count = Math.ceil(Math.log(high / low) / step) + 1;
  return { middle: Math.log(low * high) / 2, step, count };
}

/** A fit without readings. */
export function beginFit(sinceMs: number, startC: number, startDeviationK: number): WarmingFit {
  return { sinceMs, startC, startDeviationK, ageS: 0, blocks: 0, countK: 0, history: [], window: WIDEST };
}

/** A case rises above its heatsink with some 1.3 s (1 to 2 J/K through about 1 K/W; common practice). */
const CASE_S = 1.3;

/** Lags after which e^-lags is less than 1e-13. */
const OVER = 30;

/** What the fast part of a step shows after `seconds`, 1 = over: two lags in a row (any text on control). */
export function fastPart(seconds: number, lag: number): number {
  if (seconds > OVER * Math.max(lag, CASE_S)) return 1;
  if (Math.abs(lag - CASE_S) < 0.05) return fastPart(seconds, lag + 0.1);
  return 1 - (lag * Math.exp(-seconds / lag) - CASE_S * Math.exp(-seconds / CASE_S)) / (lag - CASE_S);
}

/** How long the part has warmed where the probe shows it now, s: exact while it warms in a straight line. */
export function shownAtS(seconds: number, lag: number): number {
  return seconds > OVER * lag ? seconds - lag : seconds - lag * (1 - Math.exp(-seconds / lag));
}

/** The fit after one more block; `repeatedK2` of its variance repeats in the next, `countK` is the probe's. */
export function addBlock(fit: WarmingFit, block: Block, repeatedK2: number, countK: number): WarmingFit {
  const ageS = (block.atMs - fit.sinceMs) / 1000;
  const { celsius, variance } = block;
  const newest = { atS: ageS, celsius, variance, repeatedK2, lengthS: ageS - fit.ageS };
  return { ...fit, ageS, blocks: fit.blocks + 1, countK, history: remember(fit.history, newest, countK) };
}
