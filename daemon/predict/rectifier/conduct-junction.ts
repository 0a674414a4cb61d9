import type { Path } from './path.js';
import type { Workspace } from './pieces.js';
import { C1, C2, MOST_PIECES, STEP, addPiece, pieceVolts } from './pieces.js';
import { wrightOmega, wrightOmegaInPlace } from './wright-omega.js';

/** Real eigenvalue of the inverse of the Radau IIA matrix: filters the error estimate. */
const FILTER = 3.637834252744496;
/** Weights of the Radau quadrature on C1, C2, 1. */
export const W1 = (16 - Math.sqrt(6)) / 36;
export const W2 = (16 + Math.sqrt(6)) / 36;
export const W3 = 1 / 9;

// Slopes of the three Lagrange cubics (0 at 0, 1 at their own node) at 0, C1, C2 and 1: the slope of
// the collocation polynomial, and at the nodes the inverse of the Runge-Kutta matrix.
const D1 = (C1 - C2) * (C1 - 1) * C1;
const D2 = (C2 - C1) * (C2 - 1) * C2;
const D3 = (1 - C1) * (1 - C2);
const S01 = C2 / D1;
const S02 = C1 / D2;
const S03 = (C1 * C2) / D3;
const S11 = (C1 * (C1 - C2) + C1 * (C1 - 1) + (C1 - C2) * (C1 - 1)) / D1;
const S12 = (C1 * (C1 - 1)) / D2;
const S13 = (C1 * (C1 - C2)) / D3;
const S21 = (C2 * (C2 - 1)) / D1;
const S22 = (C2 * (C2 - C1) + C2 * (C2 - 1) + (C2 - C1) * (C2 - 1)) / D2;
const S23 = (C2 * (C2 - C1)) / D3;
const S31 = (1 - C2) / D1;
const S32 = (1 - C1) / D2;
const S33 = (1 - C1 + (1 - C2) + (1 - C1) * (1 - C2)) / D3;

/** Radians; keeps the sine's Taylor terms inside a step good to 1e-11. */
const LONGEST_STEP = 0.5;
const MOST_NEWTON = 9;

/**
 * One conduction through junctions, from `space.angle` until the current has died away, or until the
 * node would fall below 0 V; returns true in the second case. `share` is the allowed error in shares of
 * the volts that matter.
 *
 * There is no elementary closed form. The current is one as a function of u (Wright's omega), which
 * leaves one smooth scalar equation y' = f(angle, y) with df/dy < 0. It is solved by three-stage Radau
 * collocation in steps as long as the error allows (fifth order, L- and B-stable: Hairer and Wanner,
 * Solving ODEs II), so a reservoir of next to nothing is as safe as a large one. Kept whole: this is the
 * hot loop; the emf inside a step comes by rotation because a library sine costs as much as a stage.
 */
export function conductJunction(space: Workspace, share: number): boolean {
  const { path, pieces, stages } = space;
  const { emf, kappa, k, gamma, current, conductance, junction, saturation, omegaShift } = path;
  const perOmega = junction / path.resistance;
  const perJunction = 1 / junction;
  const slopeScale = 1 / path.resistance;
  const allowed = Math.max(4e-15 * emf, share * Math.min(path.scaleVolts, errorVolts(path)));
  // Newton's method squares its error in units of the junction's volts.
  const enough = Math.max(0.03 * allowed, Math.sqrt(0.01 * allowed * Math.min(allowed * 1e4, junction)));
  const base = k * (path.r * current - space.start);
  let angle = space.angle;
  let change = space.change;
  let sensitivity = 0;
  let sine = Math.sin(angle);
  let cosine = Math.cos(angle);
  const omega = wrightOmega((emf * sine + base - k * change) * perJunction + omegaShift);
  let f0 = kappa * (perOmega * omega - saturation - current - conductance * (space.start + change));
  let slope0 = (omega / (1 + omega)) * slopeScale;
  const climb = emf * cosine - k * f0;
  let h = climb > 0 ? Math.min(0.1, (6 * junction) / climb) : 0.02;
  let oldH = 0;
  let o1 = 0;
  let o2 = 0;
  let o3 = 0;
  let stopsHere = false;
  for (;;) {
    if (space.pieceCount >= MOST_PIECES || h < 1e-15) {
      space.angle = NaN;
      return false;
    }
    if (angle + h > Math.PI) h = Math.PI - angle;
    const y = space.start + change;
    const x1 = C1 * h;
    const x2 = C2 * h;
    const q1 = x1 * x1;
    const q2 = x2 * x2;
    const q3 = h * h;
    const s1 = x1 * (1 - (q1 / 6) * (1 - (q1 / 20) * (1 - (q1 / 42) * (1 - q1 / 72))));
    const s2 = x2 * (1 - (q2 / 6) * (1 - (q2 / 20) * (1 - (q2 / 42) * (1 - q2 / 72))));
    const s3 = h * (1 - (q3 / 6) * (1 - (q3 / 20) * (1 - (q3 / 42) * (1 - q3 / 72))));
    const c1 = 1 - (q1 / 2) * (1 - (q1 / 12) * (1 - (q1 / 30) * (1 - (q1 / 56) * (1 - q1 / 90))));
    const c2 = 1 - (q2 / 2) * (1 - (q2 / 12) * (1 - (q2 / 30) * (1 - (q2 / 56) * (1 - q2 / 90))));
    const c3 = 1 - (q3 / 2) * (1 - (q3 / 12) * (1 - (q3 / 30) * (1 - (q3 / 56) * (1 - q3 / 90))));
    const e1 = emf * (sine * c1 + cosine * s1) + base - k * change;
    const e2 = emf * (sine * c2 + cosine * s2) + base - k * change;
    const e3 = emf * (sine * c3 + cosine * s3) + base - k * change;
    let z1 = C1 * h * f0;
    let z2 = C2 * h * f0;
    let z3 = h * f0;
    if (oldH > 0) {
      const p1 = 1 + x1 / oldH;
      const p2 = 1 + x2 / oldH;
      const p3 = 1 + h / oldH;
      z1 = p1 * ((o1 * (p1 - C2) + o2 * (p1 - C1)) * (p1 - 1) + o3 * (p1 - C1) * (p1 - C2)) - o3 * D3;
      z2 = p2 * ((o1 * (p2 - C2) + o2 * (p2 - C1)) * (p2 - 1) + o3 * (p2 - C1) * (p2 - C2)) - o3 * D3;
      z3 = p3 * ((o1 * (p3 - C2) + o2 * (p3 - C1)) * (p3 - 1) + o3 * (p3 - C1) * (p3 - C2)) - o3 * D3;
    }
    let i1 = 0;
    let i2 = 0;
    let i3 = 0;
    let g1 = 0;
    let g2 = 0;
    let g3 = 0;
    let moved = Infinity;
    let round = 0;
    for (; round < MOST_NEWTON; round += 1) {
      stages[0] = (e1 - k * z1) * perJunction + omegaShift;
      stages[1] = (e2 - k * z2) * perJunction + omegaShift;
      stages[2] = (e3 - k * z3) * perJunction + omegaShift;
      wrightOmegaInPlace(stages, 3);
      const w1 = stages[0];
      const w2 = stages[1];
      const w3 = stages[2];
      i1 = perOmega * w1 - saturation;
      i2 = perOmega * w2 - saturation;
      i3 = perOmega * w3 - saturation;
      g1 = (w1 / (1 + w1)) * slopeScale;
      g2 = (w2 / (1 + w2)) * slopeScale;
      g3 = (w3 / (1 + w3)) * slopeScale;
      if (i1 < 0) i1 = g1 = 0;
      if (i2 < 0) i2 = g2 = 0;
      if (i3 < 0) i3 = g3 = 0;
      const hk = h * kappa;
      const r1 = hk * (i1 - current - conductance * (y + z1)) - S11 * z1 - S12 * z2 - S13 * z3;
      const r2 = hk * (i2 - current - conductance * (y + z2)) - S21 * z1 - S22 * z2 - S23 * z3;
      const r3 = hk * (i3 - current - conductance * (y + z3)) - S31 * z1 - S32 * z2 - S33 * z3;
      const hg = h * gamma;
      const m11 = S11 + hk * k * g1 + hg;
      const m22 = S22 + hk * k * g2 + hg;
      const m33 = S33 + hk * k * g3 + hg;
      const l21 = S21 / m11;
      const l31 = S31 / m11;
      const n22 = m22 - l21 * S12;
      const n23 = S23 - l21 * S13;
      const q2 = r2 - l21 * r1;
      const l32 = (S32 - l31 * S12) / n22;
      const d3 = (r3 - l31 * r1 - l32 * q2) / (m33 - l31 * S13 - l32 * n23);
      const d2 = (q2 - n23 * d3) / n22;
      const d1 = (r1 - S12 * d2 - S13 * d3) / m11;
      z1 += d1;
      z2 += d2;
      z3 += d3;
      i1 -= g1 * k * d1;
      i2 -= g2 * k * d2;
      i3 -= g3 * k * d3;
      moved = Math.max(Math.abs(d1), Math.abs(d2), Math.abs(d3));
      if (moved <= enough) break;
    }
    if (!(moved <= enough)) {
      h *= 0.25;
      oldH = 0;
      continue;
    }
    const mismatch = f0 - (S01 * z1 + S02 * z2 + S03 * z3) / h;
    const error = Math.abs(mismatch / (FILTER / h + kappa * k * slope0 + gamma)) / allowed;
    if (error > 1 && !stopsHere) {
      h *= Math.max(0.15, 0.75 / Math.sqrt(Math.sqrt(error)));
      oldH = 0;
      continue;
    }
    space.angle = angle;
    space.change = change;
    const at = addPiece(space, STEP, angle + h);
    pieces[at + 4] = z1;
    pieces[at + 5] = z2;
    pieces[at + 6] = z3;
    pieces[at + 7] = i1;
    pieces[at + 8] = i2;
    pieces[at + 9] = i3;
    if (current > 0 && !stopsHere && nodeVolts(path, y + z3, i3) < 0) {
      space.pieceCount -= 1;
      h *= zeroWithinStep(space, at, h);
      oldH = 0;
      stopsHere = true;
      if (h > 1e-13) continue;
      break;
    }
    sensitivity +=
      h * (W1 * (kappa * k * g1 + gamma) + W2 * (kappa * k * g2 + gamma) + W3 * (kappa * k * g3 + gamma));
    angle += h;
    change += z3;
    f0 = kappa * (i3 - current - conductance * (space.start + change));
    slope0 = g3;
    const turned = cosine * c3 - sine * s3;
    sine = sine * c3 + cosine * s3;
    cosine = turned;
    const dies = i3 < path.onsetCurrent && emf * cosine < k * f0;
    if (dies || stopsHere || angle >= Math.PI - 1e-12) break;
    oldH = h;
    o1 = z1 / D1;
    o2 = z2 / D2;
    o3 = z3 / D3;
    const grow = error > 1e-6 ? 0.75 / Math.sqrt(Math.sqrt(error)) : 3;
    h = Math.min(LONGEST_STEP, h * Math.min(3, Math.max(0.2, grow)));
  }
  space.angle = angle;
  space.change = change;
  space.logSensitivity -= sensitivity;
  return stopsHere;
}

/** Volts that a current of the expected size makes across the path: the error that shows in the current. */
function errorVolts(path: Path): number {
  return (path.resistance * path.scaleCurrent + path.junction) / path.k;
}

function nodeVolts(path: Path, y: number, current: number): number {
  return path.k * (y + path.r * (current - path.current));
}

/** Share of the step at which the node reaches 0 V. */
function zeroWithinStep(space: Workspace, at: number, h: number): number {
  const { path, pieces } = space;
  const from = pieces[at + 1]!;
  let low = 0;
  let high = 1;
  for (let round = 0; round < 45; round += 1) {
    const middle = (low + high) / 2;
    const y = pieceVolts(space, at, from + middle * h);
    const u = path.emf * Math.sin(from + middle * h) - path.k * (y - path.r * path.current);
    const omega = wrightOmega(u / path.junction + path.omegaShift);
    const current = (path.junction / path.resistance) * omega - path.saturation;
    if (nodeVolts(path, y, current) < 0) high = middle;
    else low = middle;
  }
  return Math.max(high, 1e-9);
}
