import type { Workspace } from './pieces.js';
import { HOLD, PIECE, decayIntegral } from './pieces.js';

/** Columns of `space.sums`: integrals over the angle of w, the node's volts less a reference. */
export const SUM = {
  /** w, w², and w times the cosine and sine of one, two and four times the angle. */
  ripple: 0,
  rippleSquare: 1,
  cosine1: 2,
  sine1: 3,
  cosine2: 4,
  sine2: 5,
  cosine4: 6,
  sine4: 7,
  /** Angle that they span. */
  angle: 8,
  columns: 9,
} as const;

/** Below this, series are better than differences. */
const SMALL_DECAY = 0.1;

/**
 * Fills `space.sums` with the integrals over all HOLD pieces, in closed form: nothing but the load flows, so
 * w = w0 - s·D with s = k·kappa·(I0 + G·y0) and D = (1 - exp(-gamma·x))/gamma, x the angle from the piece's start.
 */
export function integrateHolds(space: Workspace, reference: number): void {
  const { path, pieces, sums } = space;
  const { k, kappa, gamma, current, conductance } = path;
  sums.fill(0);
  for (let at = 0; at < space.pieceCount * PIECE; at += PIECE) {
    if (pieces[at] !== HOLD) continue;
    const from = pieces[at + 1]!;
    const until = pieces[at + 2]!;
    const span = until - from;
    // A step's error may leave a node that dies a hair below 0 V.
    const y = Math.max(path.r * current, space.start + pieces[at + 3]!);
    const start = k * (y - path.r * current) - reference;
    const fall = k * kappa * (current + conductance * y);
    const once = integralOfDecay(gamma * span) * span * span;
    const twice = integralOfSquare(gamma * span) * span * span * span;
    sums[SUM.ripple]! += start * span - fall * once;
    sums[SUM.rippleSquare]! += start * (start * span - 2 * fall * once) + fall * fall * twice;
    sums[SUM.angle]! += span;
    addHarmonics(space, from, start, fall, 1, 1);
    addHarmonics(space, until, start - fall * decayIntegral(gamma, span), fall, Math.exp(-gamma * span), -1);
  }
}

/**
 * One end of the integrals of w·cos(n·angle) and w·sin(n·angle), 1 for the lower and -1 for the upper. By parts,
 * with w' = -s·e, e = exp(-gamma·x) and q = s·e/(n·(n² + gamma²)), the antiderivatives are
 * w·sin/n - q·(n·cos + gamma·sin) and -w·cos/n - q·(n·sin - gamma·cos).
 */
function addHarmonics(
  space: Workspace,
  angle: number,
  w: number,
  fall: number,
  decay: number,
  sign: 1 | -1,
): void {
  const { sums, path } = space;
  const sine = Math.sin(angle);
  const cosine = Math.cos(angle);
  addHarmonic(sums, SUM.cosine1, 1, sine, cosine, -sign * w, sign * fall * decay, path.gamma);
  const sine2 = 2 * sine * cosine;
  const cosine2 = 1 - 2 * sine * sine;
  addHarmonic(sums, SUM.cosine2, 2, sine2, cosine2, -sign * w, sign * fall * decay, path.gamma);
  const sine4 = 2 * sine2 * cosine2;
  const cosine4 = 1 - 2 * sine2 * sine2;
  addHarmonic(sums, SUM.cosine4, 4, sine4, cosine4, -sign * w, sign * fall * decay, path.gamma);
}

function addHarmonic(
  sums: Float64Array,
  column: number,
  n: number,
  sine: number,
  cosine: number,
  w: number,
  falling: number,
  gamma: number,
): void {
  const q = falling / (n * (n * n + gamma * gamma));
  sums[column]! += (w * sine) / n + q * (n * cosine + gamma * sine);
  sums[column + 1]! += q * (n * sine - gamma * cosine) - (w * cosine) / n;
}

/** (p - 1 + exp(-p))/p², the integral of (1 - exp(-p·x))/p from 0 to 1. */
function integralOfDecay(p: number): number {
  if (p > SMALL_DECAY) return (p + Math.expm1(-p)) / (p * p);
  return 1 / 2 - p * (1 / 6 - p * (1 / 24 - p * (1 / 120 - p * (1 / 720 - p / 5040))));
}

/** The integral of its square. */
function integralOfSquare(p: number): number {
  if (p > SMALL_DECAY) return (p + 2 * Math.expm1(-p) - Math.expm1(-2 * p) / 2) / (p * p * p);
  return 1 / 3 - p * (1 / 4 - p * (7 / 60 - p * (1 / 24 - p * (31 / 2520 - p / 320))));
}
