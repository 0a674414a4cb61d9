import { fastPart, shownAtS, type Lattice, type WarmingFit, type Window } from './fit.js';
import { curveOf, LONGEST_S, SHORTEST_S, type Mix } from './grid.js';
import { warmedAfter, type HeatingCurve } from './heating.js';
import { kindsOf, type Known, type WarmingPrior } from './prior.js';
import { solve } from './solve.js';
import { sumsOfCurve, sumsOfLag, weigh } from './sums.js';

/** The straight-line parameters of one curve, and how likely it is. */
export interface Cell {
  readonly tau: number;
  readonly heating: HeatingCurve;
  /** Share of the losses by natural convection. */
  readonly convection: number;
  readonly lag: number;
  /** How far the part has warmed by the newest block, 1 when settled. */
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

export interface Cells {
  /** Those that count; their weights add up to 1. */
  readonly cells: readonly Cell[];
  /** Where to look at the next block. */
  readonly window: Window;
}

/** Of the best cell's weight: logarithm of the least that counts. */
const LEAST = Math.log(3e-5);

/** Of every lag, time constant and kind: start, rise, mixed, fast, variance, logarithm of the weight. */
const COLUMNS = 6;
const LOG = 5;
const MOST_POINTS = 3 * 5 * 32;
const scratch = new Float64Array(MOST_POINTS * COLUMNS);

/**
 * Every curve of the fit's window; `fastK` is how far the case rises at once, as far as known. While the window is wide a
 * quick part may show itself between two of its time constants: then they are looked at more closely.
 */
export function cellsOf(fit: WarmingFit, prior: WarmingPrior, fastK: number): Cells {
  const { window } = fit;
  const cells = cellsIn(window, fit, prior, fastK);
  const closer = window.tau.count > TAUS ? closerOf(cells, window) : null;
  if (closer !== null) {
    const found = cellsIn(closer, fit, prior, fastK);
    if (weightAtEdge(found, closer.tau) < EDGE) return { cells: found, window: windowOf(found, fit, closer) };
  }
  return { cells, window: windowOf(cells, fit, window) };
}

/** Null where the time constants that are likely span more than a step: then it shows them as well. */
function closerOf(cells: readonly Cell[], { tau: { step }, lag }: Window): Window | null {
  const { mean, deviation } = spreadOf(cells, ({ tau }) => Math.log(tau));
  if (deviation > step) return null;
  return { tau: withinBounds(mean, Math.max(deviation, HIDDEN * step) / FINENESS, step), lag };
}

function cellsIn(window: Window, fit: WarmingFit, prior: WarmingPrior, fastK: number): readonly Cell[] {
  const kinds = kindsOf(prior);
  const lags = pointsOf(window.lag).map(Math.exp);
  const taus = pointsOf(window.tau).map(Math.exp);
  fillScratch(fit, kinds, lags, taus, fastK);
  const points = lags.length * taus.length * kinds.length;
  let best = -Infinity;
  for (let point = 0; point < points; point += 1) best = Math.max(best, scratch[point * COLUMNS + LOG]!);
  const kept: number[] = [];
  let sum = 0;
  for (let point = 0; point < points; point += 1) {
    const log = scratch[point * COLUMNS + LOG]! - best;
    if (log < LEAST) continue;
    kept.push(point);
    sum += Math.exp(log);
  }
  return kept.map((point) => {
    const curve = Math.floor(point / kinds.length);
    const tau = taus[curve % taus.length]!;
    const lag = lags[Math.floor(curve / taus.length)]!;
    return cellOf(fit, kinds[0]!.mix, tau, lag, point * COLUMNS, best + Math.log(sum));
  });
}

function fillScratch(
  fit: WarmingFit,
  kinds: readonly Known[],
  lags: readonly number[],
  taus: readonly number[],
  fastK: number,
): void {
  const count = weigh(fit, fastK);
  const plausible = taus.map((tau) => kinds.map((kind) => kind.ofTau(tau)));
  let to = 0;
  for (const lag of lags) {
    const ofLag = sumsOfLag(fit, count, lag);
    const logOfLag = logOf(lag);
    for (let at = 0; at < taus.length; at += 1) {
      const ofCurve = sumsOfCurve(count, taus[at]!, kinds[0]!.mix);
      for (let kind = 0; kind < kinds.length; kind += 1, to += COLUMNS) {
        const known = kinds[kind]!;
        const {
          startK,
          riseK,
          mixedK,
          fastK: jumpK,
          variance,
          log,
        } = solve(ofLag, ofCurve, fit.startDeviationK, known);
        scratch[to] = startK;
        scratch[to + 1] = riseK;
        scratch[to + 2] = mixedK;
        scratch[to + 3] = jumpK;
        scratch[to + 4] = variance;
        const settledC = fit.startC + startK + riseK + jumpK;
        scratch[to + LOG] =
          log + plausible[at]![kind]! + logOfLag + known.ofRise(riseK + jumpK) + Math.log(survival(settledC));
      }
    }
  }
}

function cellOf(fit: WarmingFit, mix: Mix, tau: number, lag: number, at: number, logOfSum: number): Cell {
  const startK = scratch[at]!;
  const riseK = scratch[at + 1]!;
  const fastK = scratch[at + 3]!;
  const share = Math.abs(riseK) < 1 ? 0 : scratch[at + 2]! / riseK;
  const convection = mix.none + share * (mix.all - mix.none);
  const heating = curveOf(convection);
  const warmed = warmedAfter(heating, shownAtS(fit.ageS, lag) / tau);
  const baseC = fit.startC + startK + fastK;
  return {
    tau,
    heating,
    convection,
    lag,
    warmed,
    weight: Math.exp(scratch[at + LOG]! - logOfSum),
    settledC: baseC + riseK,
    settledVariance: scratch[at + 4]! + modelVariance(riseK, warmed),
    riseK,
    baseC,
    fastK,
  };
}

const SHAPE_SHARE = 0.026;
const SETTLED_SHARE = 0.0025;
const SETTLED_K = 0.14;

/** What the curve's shape may be wrong by, K²: most while most of the way is still to come. */
function modelVariance(riseK: number, warmed: number): number {
  const ahead = SHAPE_SHARE * riseK * (1 - Math.min(1, warmed));
  const always = SETTLED_SHARE * riseK;
  return ahead * ahead + always * always + SETTLED_K * SETTLED_K;
}

/** Regulators take their current back from some 150 degrees C of junction on (data sheets of LM317, 7805). */
function survival(settledC: number): number {
  return 0.02 + 0.98 / (1 + Math.exp((settledC - 150) / 7));
}

/** A probe follows with some 3 s, give or take half as much again each way (common practice). */
function logOf(lag: number): number {
  const z = Math.log(lag / USUAL_LAG_S) / LAG_SPREAD;
  return (-z * z) / 2;
}
const USUAL_LAG_S = 3.2;
const LAG_SPREAD = 0.8;

function pointsOf({ middle, step, count }: Lattice): readonly number[] {
  return Array.from({ length: count }, (_, place) => middle + (place - (count - 1) / 2) * step);
}

const WIDE_UNTIL_S = 40;
const WIDE_BLOCKS = 12;
const TAUS = 13;
const WIDEST_STEP = 0.26;
const LEAST_STEP = 0.012;
/** Steps a deviation. */
const FINENESS = 1.6;
/** Of a wide window's step: what lies between two of its time constants. */
const HIDDEN = 0.3;
/** A window's edge that has more than this is too near. */
const EDGE = 2e-3;

function windowOf(cells: readonly Cell[], fit: WarmingFit, before: Window): Window {
  const lag = lagLattice(cells, fit, before.lag);
  // A quick part and the jump of a case over its heatsink look alike at first.
  if (isWide(fit)) return { tau: fit.window.tau, lag };
  const tau = spreadOf(cells, ({ tau: of }) => Math.log(of));
  const wanted = Math.max(LEAST_STEP, tau.deviation / FINENESS);
  const step =
    weightAtEdge(cells, before.tau) > EDGE
      ? Math.max(wanted, 1.5 * before.tau.step)
      : Math.max(wanted, before.tau.step / 1.5);
  return { tau: withinBounds(tau.mean, step, WIDEST_STEP), lag };
}

const isWide = ({ ageS, blocks }: WarmingFit): boolean => ageS < WIDE_UNTIL_S || blocks < WIDE_BLOCKS;

function withinBounds(middle: number, step: number, widest: number): Lattice {
  const kept = Math.min(widest, step);
  const reach = ((TAUS - 1) / 2) * kept;
  const [low, high] = [Math.log(SHORTEST_S), Math.log(LONGEST_S)];
  const inside = Math.max(low + reach, Math.min(high - reach, middle));
  return { middle: reach > (high - low) / 2 ? (low + high) / 2 : inside, step: kept, count: TAUS };
}

function weightAtEdge(cells: readonly Cell[], lattice: Lattice): number {
  const points = pointsOf(lattice);
  const edges = [points.at(0)!, points.at(-1)!];
  return cells.reduce(
    (sum, { tau, weight }) =>
      edges.some((edge) => Math.abs(Math.log(tau) - edge) < 1e-9) ? sum + weight : sum,
    0,
  );
}

function lagLattice(cells: readonly Cell[], { blocks }: WarmingFit, before: Lattice): Lattice {
  const { mean, deviation } = spreadOf(cells, ({ lag }) => Math.log(lag));
  if (blocks < LAG_BLOCKS) return before;
  const edge = (before.step * (before.count - 1)) / 2 - 1e-9;
  const atEdge = cells.reduce(
    (sum, { lag, weight }) => (Math.abs(Math.log(lag) - before.middle) > edge ? sum + weight : sum),
    0,
  );
  const wanted =
    atEdge > LAG_EDGE ? 1.2 * before.step : Math.max(before.step / 1.3, Math.sqrt(3) * deviation);
  const step = Math.max(LEAST_LAG_STEP, Math.min(MOST_LAG_STEP, wanted));
  return { middle: Math.max(-0.1, Math.min(2.6, mean)), step, count: 3 };
}
const LAG_BLOCKS = 6;
const LAG_EDGE = 0.4;
const LEAST_LAG_STEP = 0.12;
const MOST_LAG_STEP = 0.8;

interface Spread {
  readonly mean: number;
  readonly deviation: number;
}

function spreadOf(cells: readonly Cell[], of: (cell: Cell) => number): Spread {
  let mean = 0;
  let square = 0;
  for (const cell of cells) {
    const value = of(cell);
    mean += cell.weight * value;
    square += cell.weight * value * value;
  }
  return { mean, deviation: Math.sqrt(Math.max(0, square - mean * mean)) };
}

/** Of a cell, `seconds` after the newest block, degrees C. */
export function shownAfter(fit: WarmingFit, cell: Cell, seconds: number): number {
  const { tau, heating, lag, baseC, fastK, riseK } = cell;
  const ageS = fit.ageS + seconds;
  return baseC - fastK * (1 - fastPart(ageS, lag)) + riseK * warmedAfter(heating, shownAtS(ageS, lag) / tau);
}
