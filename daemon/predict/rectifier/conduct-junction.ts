import type { Path } from './path.js';
import type { Workspace } from './pieces.js';
import { MOST_PIECES, PIECE, STEP, pieceVolts } from './pieces.js';
import { C1, C2, solveStages, stepDamping } from './radau.js';
import { wrightOmega } from './wright-omega.js';

/** Real eigenvalue of the inverse of the Radau IIA matrix: filters the error estimate. */
const FILTER = 3.637834252744496;
// The Lagrange cubics (0 at 0 and at the other nodes) at their own nodes, and their slopes at 0.
const D1 = (C1 - C2) * (C1 - 1) * C1;
const D2 = (C2 - C1) * (C2 - 1) * C2;
const D3 = (1 - C1) * (1 - C2);
const S01 = C2 / D1;
const S02 = C1 / D2;
const S03 = (C1 * C2) / D3;
/** The nodes again: constants of this file are faster than imported ones. */
const N1 = C1;
const N2 = C2;

/** Radians; keeps the sine's Taylor terms inside a step good to 1e-11. */
const LONGEST_STEP = 0.5;
const SIN3 = -1 / 6;
const SIN5 = 1 / 120;
const SIN7 = -1 / 5040;
const SIN9 = 1 / 362880;
const COS4 = 1 / 24;
const COS6 = -1 / 720;
const COS8 = 1 / 40320;
const COS10 = -1 / 3628800;
/** Furthest that the driving volts may fall in a step: a share of what's across the resistance, and of the junction's. */
const KNEE_SHARE = 0.8;
const KNEE = 4;
/** In volts of the junction, that the emf climbs by. */
const FIRST_STEP = 5;
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
  const { emf, kappa, k, gamma, current, conductance, junction } = path;
  const allowed = Math.max(4e-15 * emf, share * Math.min(path.scaleVolts, errorVolts(path)));
  // Newton's method squares its error in units of the junction's volts.
  space.enough = Math.max(0.03 * allowed, Math.sqrt(0.01 * allowed * Math.min(allowed * 1e4, junction)));
  let angle = space.angle;
  let change = space.change;
  let sensitivity = 0;
  let sine = Math.sin(angle);
  let cosine = Math.cos(angle);
  const base = k * (path.r * current - space.start - change) * path.perJunction + path.omegaShift;
  const omega = wrightOmega(emf * sine * path.perJunction + base);
  let f0 = kappa * (path.perOmega * omega - path.saturation - current - conductance * (space.start + change));
  let slope0 = omega / ((1 + omega) * path.resistance);
  const climb = emf * cosine - k * f0;
  let h = climb > 0 ? Math.min(0.1, (FIRST_STEP * junction) / climb) : 0.02;
  let oldH = 0;
  let stopsHere = false;
  for (;;) {
    if (space.pieceCount >= MOST_PIECES || h < 1e-15) {
      space.angle = NaN;
      return false;
    }
    if (angle + h > Math.PI) h = Math.PI - angle;
    const at = space.pieceCount * PIECE;
    pieces[at] = STEP;
    pieces[at + 1] = angle;
    pieces[at + 2] = angle + h;
    pieces[at + 3] = change;
    const x1 = N1 * h;
    const x2 = N2 * h;
    const q1 = x1 * x1;
    const q2 = x2 * x2;
    const q3 = h * h;
    const s1 = x1 * (1 + q1 * (SIN3 + q1 * (SIN5 + q1 * (SIN7 + q1 * SIN9))));
    const s2 = x2 * (1 + q2 * (SIN3 + q2 * (SIN5 + q2 * (SIN7 + q2 * SIN9))));
    const s3 = h * (1 + q3 * (SIN3 + q3 * (SIN5 + q3 * (SIN7 + q3 * SIN9))));
    const c1 = 1 + q1 * (-0.5 + q1 * (COS4 + q1 * (COS6 + q1 * (COS8 + q1 * COS10))));
    const c2 = 1 + q2 * (-0.5 + q2 * (COS4 + q2 * (COS6 + q2 * (COS8 + q2 * COS10))));
    const c3 = 1 + q3 * (-0.5 + q3 * (COS4 + q3 * (COS6 + q3 * (COS8 + q3 * COS10))));
    const sine3 = sine * c3 + cosine * s3;
    const cosine3 = cosine * c3 - sine * s3;
    pieces[at + 10] = sine * c1 + cosine * s1;
    pieces[at + 11] = sine * c2 + cosine * s2;
    pieces[at + 12] = sine3;
    pieces[at + 13] = cosine * c1 - sine * s1;
    pieces[at + 14] = cosine * c2 - sine * s2;
    pieces[at + 15] = cosine3;
    if (oldH > 0) {
      // The last step's cubic, carried on.
      const o1 = pieces[at + 4 - PIECE]! / D1;
      const o2 = pieces[at + 5 - PIECE]! / D2;
      const old = pieces[at + 6 - PIECE]!;
      const o3 = old / D3;
      const perOld = 1 / oldH;
      const p1 = 1 + x1 * perOld;
      const p2 = 1 + x2 * perOld;
      const p3 = 1 + h * perOld;
      pieces[at + 4] = p1 * ((o1 * (p1 - N2) + o2 * (p1 - N1)) * (p1 - 1) + o3 * (p1 - N1) * (p1 - N2)) - old;
      pieces[at + 5] = p2 * ((o1 * (p2 - N2) + o2 * (p2 - N1)) * (p2 - 1) + o3 * (p2 - N1) * (p2 - N2)) - old;
      pieces[at + 6] = p3 * ((o1 * (p3 - N2) + o2 * (p3 - N1)) * (p3 - 1) + o3 * (p3 - N1) * (p3 - N2)) - old;
    } else {
      pieces[at + 4] = x1 * f0;
      pieces[at + 5] = x2 * f0;
      pieces[at + 6] = h * f0;
    }
    if (!solveStages(space, at)) {
      h *= 0.25;
      oldH = 0;
      continue;
    }
    const z3 = pieces[at + 6]!;
    const i3 = pieces[at + 9]!;
    const mismatch = h * f0 - (S01 * pieces[at + 4]! + S02 * pieces[at + 5]! + S03 * z3);
    const error = Math.abs(mismatch) / ((FILTER + h * (kappa * k * slope0 + gamma)) * allowed);
    if (error > 1 && !stopsHere) {
      h *= Math.max(0.15, 0.75 / Math.sqrt(Math.sqrt(error)));
      oldH = 0;
      continue;
    }
    if (current > 0 && !stopsHere && nodeVolts(path, space.start + change + z3, i3) < 0) {
      h *= zeroWithinStep(space, at, h);
      oldH = 0;
      stopsHere = true;
      if (h > 1e-13) continue;
      break;
    }
    space.pieceCount += 1;
    sensitivity += stepDamping(space, h);
    angle += h;
    change += z3;
    f0 = kappa * (i3 - current - conductance * (space.start + change));
    slope0 = stages[5]!;
    sine = sine3;
    cosine = cosine3;
    const dies = i3 < path.onsetCurrent && emf * cosine < k * f0;
    if (dies || stopsHere || angle >= Math.PI - 1e-12) break;
    oldH = h;
    const grow = error > 1e-6 ? 0.75 / Math.sqrt(Math.sqrt(error)) : 3;
    h = Math.min(LONGEST_STEP, h * Math.min(3, Math.max(0.2, grow)));
    // How far the driving volts may fall: not past the knee, where the error's estimate could be fooled.
    const fall = KNEE_SHARE * path.resistance * i3 + KNEE * junction;
    const falling = k * f0 - emf * cosine;
    const bend = emf * sine - k * kappa * slope0 * falling;
    if (bend > 0 || falling > 0) {
      const root = Math.sqrt(Math.max(0, falling * falling + 2 * bend * fall));
      h = Math.min(h, falling > 0 ? (2 * fall) / (falling + root) : (root - falling) / bend);
    }
  }
  space.angle = angle;
  space.change = change;
  space.logSensitivity -= sensitivity;
  return stopsHere;
}

/** Volts that a current of the expected size makes across the path: the error that shows in the current. */
export function errorVolts(path: Path): number {
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
