import { warmed } from './heating.js';
import { plausibilities, type WarmingPrior } from './prior.js';

/**
 * Temperatures since the supply came on, or since something changed, as the sums that a least-squares fit needs.
 * Plain data: a state that is saved and loaded again goes on to the same digit.
 */
export interface WarmingFit {
  /** Session time at which this warming began, ms. */
  readonly sinceMs: number;
  readonly startC: number;
  /** How well the temperature at the start is known, K. */
  readonly startDeviationK: number;
  /** Of the newest block, s since the start. */
  readonly ageS: number;
  readonly blocks: number;
  /** Sums over all blocks of w, w·f, w·f², w·y, w·y·f and w·y²; see `addBlock`. */
  readonly common: readonly number[];
  /** For each cell: how far it has warmed, then the sums of w·x, w·x², w·x·f and w·x·y. */
  readonly cells: readonly number[];
}

/** A block of readings. */
export interface Block {
  readonly atMs: number;
  readonly celsius: number;
  /** Of the block's mean, K². */
  readonly variance: number;
}

/** The straight-line parameters of one cell, and how likely it is. */
export interface Cell {
  readonly tau: number;
  readonly convection: number;
  /** How far it has warmed by the newest block, 1 when settled. */
  readonly warmed: number;
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

const SHORTEST_S = 15;
const LONGEST_S = 4000;
const COUNT = 40;
export const TAUS: readonly number[] = Array.from(
  { length: COUNT },
  (_, index) => SHORTEST_S * (LONGEST_S / SHORTEST_S) ** (index / (COUNT - 1)),
);
/** Shares of loss by natural convection: nearly all of it by a fan, mixed with radiation, and none but it. */
const CONVECTIONS: readonly number[] = [0.2, 0.6, 1];
const CELLS = TAUS.length * CONVECTIONS.length;
const PER_CELL = 5;

/** Case above heatsink, and the probe's own lag, come and go within seconds (common practice). */
export const FAST_S = 5;
const FAST_DEVIATION_K = 8;
/** Old readings count less by this power of the age: no real part keeps one time constant. */
const FORGETTING = 0.6;

/** A fit without readings. */
export function beginFit(sinceMs: number, startC: number, startDeviationK: number): WarmingFit {
  return {
    sinceMs,
    startC,
    startDeviationK,
    ageS: 0,
    blocks: 0,
    common: [0, 0, 0, 0, 0, 0],
    cells: new Array<number>(CELLS * PER_CELL).fill(0),
  };
}

/**
 * The fit after one more block. Model: y = start + a + S·x(t) + F·f(t), x a part warming with tau and k of the cell,
 * f = 1 - exp(-t/5 s) the fast part; a, S and F follow from weighted least squares, w = 1/variance.
 */
export function addBlock(fit: WarmingFit, block: Block): WarmingFit {
  const ageS = (block.atMs - fit.sinceMs) / 1000;
  const passed = ageS - fit.ageS;
  const keep = fit.ageS > 0 ? (fit.ageS / ageS) ** FORGETTING : 1;
  const w = 1 / block.variance;
  const f = 1 - Math.exp(-ageS / FAST_S);
  const y = block.celsius - fit.startC;
  const [s0 = 0, s1 = 0, s2 = 0, s3 = 0, s4 = 0, s5 = 0] = fit.common;
  const common = [
    s0 * keep + w,
    s1 * keep + w * f,
    s2 * keep + w * f * f,
    s3 * keep + w * y,
    s4 * keep + w * y * f,
    s5 * keep + w * y * y,
  ];
  const cells = new Array<number>(CELLS * PER_CELL);
  let at = 0;
  for (const tau of TAUS) {
    for (const convection of CONVECTIONS) {
      const x = warmed(fit.cells[at]!, passed, tau, convection);
      cells[at] = x;
      cells[at + 1] = fit.cells[at + 1]! * keep + w * x;
      cells[at + 2] = fit.cells[at + 2]! * keep + w * x * x;
      cells[at + 3] = fit.cells[at + 3]! * keep + w * x * f;
      cells[at + 4] = fit.cells[at + 4]! * keep + w * x * y;
      at += PER_CELL;
    }
  }
  return { ...fit, ageS, blocks: fit.blocks + 1, common, cells };
}

/**
 * The cells that count, with their parameters and posterior weights (which add up to 1): normal prior on a, S and F,
 * their evidence by the Cholesky factors of the normal equations (C. Bishop, Pattern Recognition, section 3.5).
 */
export function cellsOf(fit: WarmingFit, prior: WarmingPrior): readonly Cell[] {
  const scratch = solveCells(fit, prior);
  let best = -Infinity;
  for (let at = LOG_WEIGHT; at < scratch.length; at += SOLVED) best = Math.max(best, scratch[at]!);
  const kept: Cell[] = [];
  let sum = 0;
  for (let index = 0; index < CELLS; index += 1) {
    const at = index * SOLVED;
    const weight = Math.exp(scratch[at + LOG_WEIGHT]! - best);
    if (weight < LEAST_WEIGHT) continue;
    sum += weight;
    const fastK = scratch[at + 2]!;
    const riseK = scratch[at + 1]!;
    const baseC = fit.startC + scratch[at]! + fastK;
    const x = fit.cells[index * PER_CELL]!;
    kept.push({
      tau: TAUS[Math.floor(index / CONVECTIONS.length)]!,
      convection: CONVECTIONS[index % CONVECTIONS.length]!,
      warmed: x,
      weight,
      settledC: baseC + riseK,
      settledVariance: scratch[at + 3]! + modelVariance(riseK, x),
      riseK,
      baseC,
      fastK,
    });
  }
  return kept.map((cell) => ({ ...cell, weight: cell.weight / sum }));
}

/** Of the best cell's weight. */
const LEAST_WEIGHT = 1e-6;
/** Columns of a solved cell: a, S, F, variance of their sum, logarithm of the weight. */
const SOLVED = 5;
const LOG_WEIGHT = 4;

function solveCells(fit: WarmingFit, prior: WarmingPrior): Float64Array {
  const [s0 = 0, s1 = 0, s2 = 0, s3 = 0, s4 = 0, s5 = 0] = fit.common;
  const { cells } = fit;
  const solved = new Float64Array(CELLS * SOLVED);
  const risePrecision = 1 / prior.riseDeviationK ** 2;
  const plausible = plausibilities(TAUS, prior);
  const l00 = Math.sqrt(s0 + 1 / fit.startDeviationK ** 2);
  const l20 = s1 / l00;
  const u0 = s3 / l00;
  const z0 = 1 / l00;
  const a22 = s2 + 1 / FAST_DEVIATION_K ** 2 - l20 * l20;
  const chiOfPrior = s5 + risePrecision * prior.riseK ** 2;
  for (let index = 0; index < CELLS; index += 1) {
    const at = index * PER_CELL;
    const l10 = cells[at + 1]! / l00;
    const l11 = Math.sqrt(cells[at + 2]! + risePrecision - l10 * l10);
    const l21 = (cells[at + 3]! - l20 * l10) / l11;
    const l22 = Math.sqrt(a22 - l21 * l21);
    const u1 = (cells[at + 4]! + risePrecision * prior.riseK - l10 * u0) / l11;
    const u2 = (s4 - l20 * u0 - l21 * u1) / l22;
    const fastK = u2 / l22;
    const riseK = (u1 - l21 * fastK) / l11;
    const z1 = (1 - l10 * z0) / l11;
    const z2 = (1 - l20 * z0 - l21 * z1) / l22;
    const chi = chiOfPrior - (u0 * u0 + u1 * u1 + u2 * u2);
    const to = index * SOLVED;
    solved[to] = (u0 - l10 * riseK - l20 * fastK) / l00;
    solved[to + 1] = riseK;
    solved[to + 2] = fastK;
    solved[to + 3] = z0 * z0 + z1 * z1 + z2 * z2;
    solved[to + LOG_WEIGHT] =
      plausible[Math.floor(index / CONVECTIONS.length)]! - chi / 2 - Math.log(l00 * l11 * l22);
  }
  return solved;
}

/** What the curve's shape may be wrong by: most while most of the way is still to come. */
function modelVariance(riseK: number, x: number): number {
  const ahead = SHAPE_SHARE * riseK * (1 - Math.min(1, x));
  const always = SETTLED_SHARE * riseK;
  return ahead * ahead + always * always + SETTLED_K * SETTLED_K;
}

const SHAPE_SHARE = 0.1;
const SETTLED_SHARE = 0.01;
const SETTLED_K = 0.3;
