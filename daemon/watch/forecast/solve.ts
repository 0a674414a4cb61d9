import { PER_CURVE, PER_LAG, type WarmingFit } from './fit.js';
import { CURVES, LAGS, shapeOf } from './grid.js';
import { plausibilities, type WarmingPrior } from './prior.js';

/** A bare part and one on a heatsink differ in how far the case rises at once. */
interface Kind {
  readonly fastK: number;
  readonly fastDeviationK: number;
}

/** Nothing but the probe's misfit; 3 W through 1 K/W, give or take as much (common practice). */
const KINDS: readonly Kind[] = [
  { fastK: 0, fastDeviationK: 0.3 },
  { fastK: 4, fastDeviationK: 4 },
];
const AFTER_A_CHANGE: Kind = { fastK: 0, fastDeviationK: 5 };

/** Columns of a solved cell: a, S, F, variance of their sum, logarithm of the weight. */
export const SOLVED = 5;
export const LOG_WEIGHT = 4;
/** Logarithm of a plausibility that isn't looked at. */
const IMPLAUSIBLE = -15;

/** Every kind of every curve; each call fills what it reads. */
const scratch = new Float64Array(CURVES * KINDS.length * SOLVED);

/**
 * a, S and F of every curve and kind, `SOLVED` numbers each, kind after kind, and how likely each is: normal prior on a,
 * S and F, their evidence by the Cholesky factors of the normal equations (C. Bishop, Pattern Recognition, section 3.5).
 * Valid until the next call.
 */
export function solve(fit: WarmingFit, prior: WarmingPrior): Float64Array {
  const plausible = plausibilities(prior);
  const length = fit.places.length * SOLVED;
  KINDS.forEach((kind, place) =>
    solveKind(fit, prior, prior.isChanged ? AFTER_A_CHANGE : kind, plausible[place]!, place * length),
  );
  return scratch.subarray(0, KINDS.length * length);
}

function solveKind(
  fit: WarmingFit,
  prior: WarmingPrior,
  kind: Kind,
  plausible: Float64Array,
  offset: number,
): void {
  const { curves, fast, places } = fit;
  const [s = 0, sy = 0, syy = 0] = fit.common;
  const risePrecision = 1 / prior.riseDeviationK ** 2;
  const fastPrecision = 1 / kind.fastDeviationK ** 2;
  const riseTerm = risePrecision * prior.riseK;
  const chiOfPrior = syy + riseTerm * prior.riseK + fastPrecision * kind.fastK ** 2;
  const l00 = Math.sqrt(s + 1 / fit.startDeviationK ** 2);
  const u0 = sy / l00;
  const z0 = 1 / l00;
  for (let index = 0, at = 0, to = offset; index < places.length; index += 1, at += PER_CURVE, to += SOLVED) {
    const logPrior = plausible[shapeOf(places[index]!)]!;
    if (logPrior < IMPLAUSIBLE) {
      scratch[to + LOG_WEIGHT] = -Infinity;
      continue;
    }
    const ofLag = (places[index]! % LAGS.length) * PER_LAG;
    const l20 = fast[ofLag]! / l00;
    const l10 = curves[at + 1]! / l00;
    const l11 = Math.sqrt(curves[at + 2]! + risePrecision - l10 * l10);
    const l21 = (curves[at + 3]! - l20 * l10) / l11;
    const l22 = Math.sqrt(fast[ofLag + 1]! + fastPrecision - l20 * l20 - l21 * l21);
    const u1 = (curves[at + 4]! + riseTerm - l10 * u0) / l11;
    const u2 = (fast[ofLag + 2]! + fastPrecision * kind.fastK - l20 * u0 - l21 * u1) / l22;
    const fastK = u2 / l22;
    const riseK = (u1 - l21 * fastK) / l11;
    const z1 = (1 - l10 * z0) / l11;
    const z2 = (1 - l20 * z0 - l21 * z1) / l22;
    const a = (u0 - l10 * riseK - l20 * fastK) / l00;
    const chi = chiOfPrior - (u0 * u0 + u1 * u1 + u2 * u2);
    scratch[to] = a;
    scratch[to + 1] = riseK;
    scratch[to + 2] = fastK;
    scratch[to + 3] = z0 * z0 + z1 * z1 + z2 * z2;
    const evidence = survival(fit.startC + a + riseK + fastK) / (kind.fastDeviationK * l00 * l11 * l22);
    scratch[to + LOG_WEIGHT] = logPrior - chi / 2 + Math.log(evidence);
  }
}

/** Regulators take their current back from some 150 degrees C of junction on (data sheets of LM317, 7805). */
function survival(settledC: number): number {
  return 0.02 + 0.98 / (1 + Math.exp((settledC - 150) / 7));
}
