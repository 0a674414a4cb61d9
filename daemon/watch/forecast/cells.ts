import { fastPart, PER_CURVE, type WarmingFit } from './fit.js';
import { heatingOf, LAGS, shapeOf, tauOf } from './grid.js';
import { warmedAfter, type HeatingCurve } from './heating.js';
import type { WarmingPrior } from './prior.js';
import { LOG_WEIGHT, solve, SOLVED } from './solve.js';

/** The straight-line parameters of one curve, and how likely it is. */
export interface Cell {
  readonly tau: number;
  readonly heating: HeatingCurve;
  readonly lag: number;
  /** Place among the shapes. */
  readonly shape: number;
  /** How far the part and the probe have warmed by the newest block, 1 when settled. */
  readonly warmed: number;
  readonly shown: number;
  readonly weight: number;
  /** Settled, degrees C. */
  readonly settledC: number;
  readonly settledVariance: number;
  readonly riseK: number;
  /** What the fast part and the start's correction add once they are over, degrees C at no rise. */
  readonly baseC: number;
  /** Of the fast part alone, K. */
  readonly fastK: number;
}

export interface Cells {
  /** Those that count; their weights add up to 1. */
  readonly cells: readonly Cell[];
  /** For each of the fit's curves: whether it may still be the one. */
  readonly likely: readonly boolean[];
}

/** Of the best cell's weight: logarithms of the least that counts, and of what won't come back. */
const LEAST = Math.log(3e-5);
const HOPELESS = -18;

export function cellsOf(fit: WarmingFit, prior: WarmingPrior): Cells {
  const solved = solve(fit, prior);
  const count = fit.places.length;
  let best = -Infinity;
  for (let at = LOG_WEIGHT; at < solved.length; at += SOLVED) best = Math.max(best, solved[at]!);
  const kept: number[] = [];
  const likely = new Array<boolean>(count).fill(false);
  let sum = 0;
  for (let at = 0, index = 0; at < solved.length; at += SOLVED, index += 1) {
    const log = solved[at + LOG_WEIGHT]! - best;
    if (!(log > HOPELESS)) continue;
    likely[index % count] = true;
    if (log < LEAST) continue;
    sum += Math.exp(log);
    kept.push(index);
  }
  const cells = kept.map((index) => {
    const at = index * SOLVED;
    return cellOf(fit, index % count, solved, at, Math.exp(solved[at + LOG_WEIGHT]! - best) / sum);
  });
  return { cells, likely };
}

function cellOf(fit: WarmingFit, index: number, solved: Float64Array, at: number, weight: number): Cell {
  const place = fit.places[index]!;
  const shape = shapeOf(place);
  const tau = tauOf(shape);
  const heating = heatingOf(shape);
  const warmed = warmedAfter(heating, fit.ageS / tau);
  const riseK = solved[at + 1]!;
  const fastK = solved[at + 2]!;
  const baseC = fit.startC + solved[at]! + fastK;
  return {
    tau,
    heating,
    lag: LAGS[place % LAGS.length]!,
    shape,
    warmed,
    shown: fit.curves[index * PER_CURVE]!,
    weight,
    settledC: baseC + riseK,
    settledVariance: solved[at + 3]! + modelVariance(riseK, warmed),
    riseK,
    baseC,
    fastK,
  };
}

const SHAPE_SHARE = 0.05;
const SETTLED_SHARE = 0.006;
const SETTLED_K = 0.35;

/** What the curve's shape may be wrong by, K²: most while most of the way is still to come. */
function modelVariance(riseK: number, warmed: number): number {
  const ahead = SHAPE_SHARE * riseK * (1 - Math.min(1, warmed));
  const always = SETTLED_SHARE * riseK;
  return ahead * ahead + always * always + SETTLED_K * SETTLED_K;
}

/** Of a cell, `seconds` after the newest block, degrees C. */
export function shownAfter(fit: WarmingFit, cell: Cell, seconds: number): number {
  const { tau, heating, warmed, shown, lag } = cell;
  const later = warmedAfter(heating, (fit.ageS + seconds) / tau);
  const behind = seconds > 0 ? ((later - warmed) / seconds) * lag : 0;
  const seen = later - behind + (shown - warmed + behind) * Math.exp(-seconds / lag);
  return cell.baseC - cell.fastK * (1 - fastPart(fit.ageS + seconds, lag)) + cell.riseK * seen;
}
