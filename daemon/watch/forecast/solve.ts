import type { Known } from './prior.js';

/** What one curve's linear parameters come to. Of the newest call. */
export interface Solution {
  /** Of the start, K. */
  startK: number;
  /** Settled rise of the slow part, K. */
  riseK: number;
  /** Share of the way through the mix, times the rise, K. */
  mixedK: number;
  /** Of the fast part, K. */
  fastK: number;
  /** Of what it settles at, K². */
  variance: number;
  /** Logarithm of the evidence, without a common constant. */
  log: number;
}

const solution: Solution = { startK: 0, riseK: 0, mixedK: 0, fastK: 0, variance: 0, log: 0 };
const LEAST_RISE_K = 8;

/**
 * Model: y = a + S·x + C·d + F·f (see `sums.ts`), normal priors on a, S, C (about a share of S) and F. Posterior mean and
 * evidence by the Cholesky factors of the normal equations (C. Bishop, Pattern Recognition, section 3.5). Valid until the
 * next call.
 */
export function solve(
  ofLag: Float64Array,
  ofCurve: Float64Array,
  startDeviationK: number,
  known: Known,
): Solution {
  const { riseK: priorK, riseDeviationK, mixed, mixedDeviation, fastK: priorFastK, fastDeviationK } = known;
  const start = 1 / (startDeviationK * startDeviationK);
  const rise = 1 / (riseDeviationK * riseDeviationK);
  const fast = 1 / (fastDeviationK * fastDeviationK);
  const aa = ofLag[0]! + start;
  const ay = ofLag[1]!;
  const af = ofLag[3]!;
  const ff = ofLag[4]! + fast;
  const fy = ofLag[5]! + fast * priorFastK;
  const x = ofCurve[0]!;
  const d = ofCurve[1]!;
  const xx = ofCurve[2]!;
  const xd = ofCurve[3]!;
  const dd = ofCurve[4]!;
  const xf = ofCurve[5]!;
  const df = ofCurve[6]!;
  const xy = ofCurve[7]! + rise * priorK;
  const dy = ofCurve[8]!;
  const fasten = 1 / Math.sqrt(aa);
  // First with the mix as expected, for the scale of what it may differ by.
  const gx = (x + mixed * d) * fasten;
  const gf = af * fasten;
  const gy = ay * fasten;
  const hxx = xx + mixed * (2 * xd + mixed * dd) + rise - gx * gx;
  const hxf = xf + mixed * df - gx * gf;
  const hff = ff - gf * gf;
  const hxy = xy + mixed * dy - gx * gy;
  const hfy = fy - gf * gy;
  const about = (hxy * hff - hxf * hfy) / (hxx * hff - hxf * hxf);
  const scaleK = mixedDeviation * Math.max(LEAST_RISE_K, Math.abs(about));
  const q = 1 / (scaleK * scaleK);
  const l00 = Math.sqrt(aa);
  const l10 = x * fasten;
  const l20 = d * fasten;
  const l30 = gf;
  const l11 = Math.sqrt(xx + rise + mixed * mixed * q - l10 * l10);
  const l21 = (xd - mixed * q - l20 * l10) / l11;
  const l31 = (xf - l30 * l10) / l11;
  const l22 = Math.sqrt(dd + q - l20 * l20 - l21 * l21);
  const l32 = (df - l30 * l20 - l31 * l21) / l22;
  const l33 = Math.sqrt(ff - l30 * l30 - l31 * l31 - l32 * l32);
  const u0 = gy;
  const u1 = (xy - l10 * u0) / l11;
  const u2 = (dy - l20 * u0 - l21 * u1) / l22;
  const u3 = (fy - l30 * u0 - l31 * u1 - l32 * u2) / l33;
  const F = u3 / l33;
  const C = (u2 - l32 * F) / l22;
  const S = (u1 - l21 * C - l31 * F) / l11;
  const a = (u0 - l10 * S - l20 * C - l30 * F) / l00;
  // Settled: a + S + F, as x is 1 and d is 0 then.
  const z0 = 1 / l00;
  const z1 = (1 - l10 * z0) / l11;
  const z2 = (0 - l20 * z0 - l21 * z1) / l22;
  const z3 = (1 - l30 * z0 - l31 * z1 - l32 * z2) / l33;
  const chi =
    ofLag[2]! +
    rise * priorK * priorK +
    fast * priorFastK * priorFastK -
    u0 * u0 -
    u1 * u1 -
    u2 * u2 -
    u3 * u3;
  solution.startK = a;
  solution.riseK = S;
  solution.mixedK = C;
  solution.fastK = F;
  solution.variance = z0 * z0 + z1 * z1 + z2 * z2 + z3 * z3;
  solution.log =
    -chi / 2 + Math.log(Math.sqrt(q) / fastDeviationK / riseDeviationK / (l00 * l11 * l22 * l33));
  return solution;
}
