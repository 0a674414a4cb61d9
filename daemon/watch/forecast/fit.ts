import { CURVES, heatingOf, LAGS, shapeOf, tauOf } from './grid.js';
import { warmedAfter } from './heating.js';

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
  /** Sums over all blocks of w, w·y and w·y²; see `addBlock`. */
  readonly common: readonly number[];
  /** For each lag: sums of w·f, w·f² and w·y·f. */
  readonly fast: readonly number[];
  /** Places of the curves that are still likely. */
  readonly places: readonly number[];
  /** For each of them: how far the probe has warmed, then the sums of w·x, w·x², w·x·f and w·x·y. */
  readonly curves: readonly number[];
}

/** A block of readings. */
export interface Block {
  readonly atMs: number;
  readonly celsius: number;
  /** Of the block's mean, K². */
  readonly variance: number;
}

export const PER_CURVE = 5;
export const PER_LAG = 3;

/** A case rises above its heatsink with some 1.3 s (1 to 2 J/K through about 1 K/W; common practice). */
const CASE_S = 1.3;
/** Old readings count less by this power of the age: no real part keeps one time constant. */
const FORGETTING = 0.6;

const ALL = Array.from({ length: CURVES }, (_, place) => place);

/** A fit without readings. */
export function beginFit(sinceMs: number, startC: number, startDeviationK: number): WarmingFit {
  return {
    sinceMs,
    startC,
    startDeviationK,
    ageS: 0,
    blocks: 0,
    common: [0, 0, 0],
    fast: new Array<number>(LAGS.length * PER_LAG).fill(0),
    places: ALL,
    curves: new Array<number>(CURVES * PER_CURVE).fill(0),
  };
}

/** What the fast part of a step shows after `seconds`, 1 = over: two lags in a row (any text on control). */
export function fastPart(seconds: number, lag: number): number {
  return 1 - (lag * Math.exp(-seconds / lag) - CASE_S * Math.exp(-seconds / CASE_S)) / (lag - CASE_S);
}

/**
 * The fit after one more block. Model: y = start + a + S·x(t) + F·f(t), x what a lagging probe shows of a part that warms
 * with tau and k, f the fast part; a, S and F follow from weighted least squares, w = 1/variance.
 */
export function addBlock(fit: WarmingFit, block: Block): WarmingFit {
  const ageS = (block.atMs - fit.sinceMs) / 1000;
  const passed = ageS - fit.ageS;
  const keep = fit.ageS > 0 ? (fit.ageS / ageS) ** FORGETTING : 1;
  const w = 1 / block.variance;
  const y = block.celsius - fit.startC;
  const [s = 0, sy = 0, syy = 0] = fit.common;
  const fs = LAGS.map((lag) => fastPart(ageS, lag));
  const decays = LAGS.map((lag) => Math.exp(-passed / lag));
  const fast = new Array<number>(fit.fast.length);
  fs.forEach((f, place) => {
    const at = place * PER_LAG;
    fast[at] = fit.fast[at]! * keep + w * f;
    fast[at + 1] = fit.fast[at + 1]! * keep + w * f * f;
    fast[at + 2] = fit.fast[at + 2]! * keep + w * f * y;
  });
  const curves = new Array<number>(fit.curves.length);
  let shape = -1;
  let after = 0;
  let pace = 0;
  for (let index = 0, at = 0; index < fit.places.length; index += 1, at += PER_CURVE) {
    const place = fit.places[index]!;
    const lag = place % LAGS.length;
    // The curves of one shape stand together.
    if (shapeOf(place) !== shape) {
      shape = shapeOf(place);
      const heating = heatingOf(shape);
      const tau = tauOf(shape);
      after = warmedAfter(heating, ageS / tau);
      pace = passed > 0 ? (after - warmedAfter(heating, fit.ageS / tau)) / passed : 0;
    }
    // A lag behind a straight piece of the curve, exactly.
    const behind = pace * LAGS[lag]!;
    const x = after - behind + (fit.curves[at]! - after + pace * passed + behind) * decays[lag]!;
    const wx = w * x;
    curves[at] = x;
    curves[at + 1] = fit.curves[at + 1]! * keep + wx;
    curves[at + 2] = fit.curves[at + 2]! * keep + wx * x;
    curves[at + 3] = fit.curves[at + 3]! * keep + wx * fs[lag]!;
    curves[at + 4] = fit.curves[at + 4]! * keep + wx * y;
  }
  const common = [s * keep + w, sy * keep + w * y, syy * keep + w * y * y];
  return { ...fit, ageS, blocks: fit.blocks + 1, common, fast, curves };
}

/** Without the curves that are not `likely`, by their order. */
export function thinned(fit: WarmingFit, likely: readonly boolean[]): WarmingFit {
  return {
    ...fit,
    places: fit.places.filter((_, index) => likely[index]),
    curves: fit.curves.filter((_, at) => likely[Math.floor(at / PER_CURVE)]),
  };
}
