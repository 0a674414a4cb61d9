import type { Workspace } from './pieces.js';
import { wrightOmegaInPlace } from './wright-omega.js';

/** Radau IIA nodes for three stages (E. Hairer and G. Wanner, Solving ODEs II, section IV.5); the third is 1. */
export const C1 = (4 - Math.sqrt(6)) / 10;
export const C2 = (4 + Math.sqrt(6)) / 10;
/** Weights of the quadrature on these nodes. */
export const W1 = (16 - Math.sqrt(6)) / 36;
export const W2 = (16 + Math.sqrt(6)) / 36;
export const W3 = 1 / 9;

// Slopes of the three Lagrange cubics (0 at 0, 1 at their own node) at C1, C2 and 1: the inverse of the
// Runge-Kutta matrix.
const D1 = (C1 - C2) * (C1 - 1) * C1;
const D2 = (C2 - C1) * (C2 - 1) * C2;
const S11 = (C1 * (C1 - C2) + C1 * (C1 - 1) + (C1 - C2) * (C1 - 1)) / D1;
const S12 = (C1 * (C1 - 1)) / D2;
const S13 = (C1 * (C1 - C2)) / ((1 - C1) * (1 - C2));
const S21 = (C2 * (C2 - 1)) / D1;
const S22 = (C2 * (C2 - C1) + C2 * (C2 - 1) + (C2 - C1) * (C2 - 1)) / D2;
const S23 = (C2 * (C2 - C1)) / ((1 - C1) * (1 - C2));
const S31 = (1 - C2) / D1;
const S32 = (1 - C1) / D2;
const S33 = (1 - C1 + (1 - C2) + (1 - C1) * (1 - C2)) / ((1 - C1) * (1 - C2));

const MOST_NEWTON = 9;

/**
 * Solves the STEP piece at column `at` by Newton's method from the stage changes that stand in it, until
 * they move by no more than `space.enough`: changes and currents of its stages go into the piece, the slopes
 * di/du at the stages into `space.stages` from column 3. False when it doesn't converge. Kept whole: the hot loop.
 */
export function solveStages(space: Workspace, at: number): boolean {
  const { path, pieces, stages, enough } = space;
  const { k, current, conductance, saturation, perOmega, perJunction } = path;
  const h = pieces[at + 2]! - pieces[at + 1]!;
  const y = space.start + pieces[at + 3]!;
  const base = k * (path.r * current - y) * perJunction + path.omegaShift;
  const perStage = k * perJunction;
  const emf = path.emf * perJunction;
  const e1 = emf * pieces[at + 10]! + base;
  const e2 = emf * pieces[at + 11]! + base;
  const e3 = emf * pieces[at + 12]! + base;
  const hk = h * path.kappa;
  const hg = hk * conductance;
  const offset = -hk * current - hg * y;
  const slopeScale = 1 / path.resistance;
  let z1 = pieces[at + 4]!;
  let z2 = pieces[at + 5]!;
  let z3 = pieces[at + 6]!;
  for (let round = 0; round < MOST_NEWTON; round += 1) {
    stages[0] = e1 - perStage * z1;
    stages[1] = e2 - perStage * z2;
    stages[2] = e3 - perStage * z3;
    wrightOmegaInPlace(stages, 3);
    const w1 = stages[0];
    const w2 = stages[1];
    const w3 = stages[2];
    let i1 = perOmega * w1 - saturation;
    let i2 = perOmega * w2 - saturation;
    let i3 = perOmega * w3 - saturation;
    let g1 = (w1 / (1 + w1)) * slopeScale;
    let g2 = (w2 / (1 + w2)) * slopeScale;
    let g3 = (w3 / (1 + w3)) * slopeScale;
    if (i1 < 0) i1 = g1 = 0;
    if (i2 < 0) i2 = g2 = 0;
    if (i3 < 0) i3 = g3 = 0;
    const r1 = hk * i1 + offset - (S11 + hg) * z1 - S12 * z2 - S13 * z3;
    const r2 = hk * i2 + offset - S21 * z1 - (S22 + hg) * z2 - S23 * z3;
    const r3 = hk * i3 + offset - S31 * z1 - S32 * z2 - (S33 + hg) * z3;
    const inverse1 = 1 / (S11 + hk * k * g1 + hg);
    const l21 = S21 * inverse1;
    const l31 = S31 * inverse1;
    const inverse2 = 1 / (S22 + hk * k * g2 + hg - l21 * S12);
    const n23 = S23 - l21 * S13;
    const p2 = r2 - l21 * r1;
    const l32 = (S32 - l31 * S12) * inverse2;
    const d3 = (r3 - l31 * r1 - l32 * p2) / (S33 + hk * k * g3 + hg - l31 * S13 - l32 * n23);
    const d2 = (p2 - n23 * d3) * inverse2;
    const d1 = (r1 - S12 * d2 - S13 * d3) * inverse1;
    z1 += d1;
    z2 += d2;
    z3 += d3;
    if (!(Math.abs(d1) <= enough && Math.abs(d2) <= enough && Math.abs(d3) <= enough)) continue;
    pieces[at + 4] = z1;
    pieces[at + 5] = z2;
    pieces[at + 6] = z3;
    pieces[at + 7] = i1 - g1 * k * d1;
    pieces[at + 8] = i2 - g2 * k * d2;
    pieces[at + 9] = i3 - g3 * k * d3;
    stages[3] = g1;
    stages[4] = g2;
    stages[5] = g3;
    return true;
  }
  return false;
}

/** How much the step that was solved last lowers the logarithm of d(y at the end)/d(y at the start). */
export function stepDamping(space: Workspace, h: number): number {
  const { path, stages } = space;
  return h * (path.kappa * path.k * (W1 * stages[3]! + W2 * stages[4]! + W3 * stages[5]!) + path.gamma);
}
