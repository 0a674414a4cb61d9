import type { Path } from './path.js';
import { emptyPath } from './path.js';
import { C1, C2 } from './radau.js';
import { wrightOmega } from './wright-omega.js';

/** What the circuit is doing during one piece of a cycle. */
export const HOLD = 0;
/** Conducting under the fixed-drop law: a sinusoid plus one exponential. */
export const LINEAR = 1;
/** Conducting through junctions: one collocation step (a cubic through start and three stages). */
export const STEP = 2;
/** Node held at 0 V by a constant-current load that the supply can't feed. */
export const CLAMP = 3;

/** Columns of a piece: kind, first angle, last angle, change of y at its start, then its own numbers. */
export const PIECE = 16;
/** A cycle may take this many pieces; running out is reported, never ignored. */
export const MOST_PIECES = 4000;

/** Scratch for solving one circuit after another without allocating. */
export interface Workspace {
  readonly path: Path;
  readonly pieces: Float64Array;
  pieceCount: number;
  /** y at the start of the period; `change` columns of pieces count from it. */
  start: number;
  /** Where the cycle stands: angle, change of y, log of the sensitivity d(end)/d(start). */
  angle: number;
  change: number;
  logSensitivity: number;
  starved: boolean;
  /** Change of a stage, V, at which Newton's method may stop. */
  enough: number;
  /** Answers of `evaluate`. */
  readonly point: Float64Array;
  readonly nodes: Float64Array;
  nodeCount: number;
  readonly sums: Float64Array;
  /** Arguments, then values, of Wright's omega at the three stages; slopes di/du there. */
  readonly stages: Float64Array;
  readonly row: Float64Array;
  readonly solution: Float64Array;
}

/** Makes scratch that any number of solves may share, one at a time. */
export function createWorkspace(): Workspace {
  return {
    path: emptyPath(),
    pieces: new Float64Array(MOST_PIECES * PIECE),
    pieceCount: 0,
    start: 0.5,
    angle: 0.5,
    change: 0.5,
    logSensitivity: 0.5,
    starved: false,
    enough: 0.5,
    point: new Float64Array(3),
    nodes: new Float64Array(MOST_NODES * NODE),
    nodeCount: 0,
    sums: new Float64Array(9),
    stages: new Float64Array(6),
    row: new Float64Array(10),
    solution: new Float64Array(32),
  };
}

/**
 * Columns of a quadrature node: angle, weight, rectified current, node volts, capacitor current, sine and
 * cosine of the angle, first column of the piece that it's in (of the one that ends there).
 */
export const NODE = 8;
export const MOST_NODES = 3 * MOST_PIECES;

/** Columns of `point`. */
export const CURRENT = 0;
export const NODE_VOLTS = 1;
export const CAPACITOR_CURRENT = 2;

/** Appends a piece and returns its first column; the caller fills its own numbers. */
export function addPiece(space: Workspace, kind: number, until: number): number {
  const at = space.pieceCount * PIECE;
  if (space.pieceCount < MOST_PIECES) space.pieceCount += 1;
  space.pieces[at] = kind;
  space.pieces[at + 1] = space.angle;
  space.pieces[at + 2] = until;
  space.pieces[at + 3] = space.change;
  return at;
}

/** (1 - exp(-rate·x))/rate, and x as the rate goes to 0. */
export function decayIntegral(rate: number, x: number): number {
  return rate * x < 1e-14 ? x : -Math.expm1(-rate * x) / rate;
}

/** Change of y over `span` radians while no current arrives, from y. */
export function holdChange(path: Path, y: number, span: number): number {
  return -path.kappa * (path.current + path.conductance * y) * decayIntegral(path.gamma, span);
}

/** Rectified current for u volts across source, diodes and capacitor resistance. */
export function conductedCurrent(path: Path, u: number): number {
  if (!path.shockley) return Math.max(0, u - path.drop) / path.resistance;
  const { junction } = path;
  return Math.max(
    0,
    (junction / path.resistance) * wrightOmega(u / junction + path.omegaShift) - path.saturation,
  );
}

/** Rectified current while the node is held at 0 V, from the sine of the angle. */
export function clampedCurrent(path: Path, sine: number): number {
  const u = path.emf * sine;
  if (u <= path.drop) return 0;
  if (!path.shockley) return (u - path.drop) / path.clampResistance;
  const { junction } = path;
  const omega = wrightOmega(u / junction + path.clampOmegaShift);
  return Math.max(0, (junction / path.clampResistance) * omega - path.saturation);
}

/** Capacitor's own volts at an angle inside the piece that starts at column `at`. */
export function pieceVolts(space: Workspace, at: number, angle: number): number {
  const { path, pieces } = space;
  const from = pieces[at + 1]!;
  const y = space.start + pieces[at + 3]!;
  const span = angle - from;
  switch (pieces[at]!) {
    case HOLD:
      return y + holdChange(path, y, span);
    case LINEAR:
      return y + linearChange(pieces, at, angle);
    case STEP:
      return y + stepChange(pieces, at, span / (pieces[at + 2]! - from));
    default:
      return path.r > 0 ? y * Math.exp(-path.clampRate * span) : 0;
  }
}

/** Columns of a LINEAR piece: decay rate, exponential's size, sinusoid's size, sinusoid at the start. */
function linearChange(pieces: Float64Array, at: number, angle: number): number {
  const rate = pieces[at + 4]!;
  const sinusoid = pieces[at + 6]! * (rate * Math.sin(angle) - Math.cos(angle)) - pieces[at + 7]!;
  return sinusoid + pieces[at + 5]! * Math.expm1(-rate * (angle - pieces[at + 1]!));
}

/**
 * Columns of a STEP piece: change of y at its three stages, current there, sine and cosine of their angles.
 * The cubic that is 0 at 0 and has these changes at C1, C2, 1.
 */
function stepChange(pieces: Float64Array, at: number, x: number): number {
  const a = x - C1;
  const b = x - C2;
  const c = x - 1;
  return (
    x *
    ((pieces[at + 4]! * b * c) / (C1 * (C1 - C2) * (C1 - 1)) +
      (pieces[at + 5]! * a * c) / (C2 * (C2 - C1) * (C2 - 1)) +
      (pieces[at + 6]! * a * b) / ((1 - C1) * (1 - C2)))
  );
}

/** Fills `point` for an angle inside the piece that starts at column `at`. */
export function evaluatePiece(space: Workspace, at: number, angle: number): void {
  evaluateWith(space, at, angle, space.pieces[at] === HOLD ? 0 : Math.sin(angle));
}

/** The same where the angle's sine is known; while holding it doesn't matter. */
export function evaluateWith(space: Workspace, at: number, angle: number, sine: number): void {
  const { path, point } = space;
  const y = pieceVolts(space, at, angle);
  const kind = space.pieces[at];
  if (kind === CLAMP) {
    point[CURRENT] = clampedCurrent(path, sine);
    point[NODE_VOLTS] = 0;
    point[CAPACITOR_CURRENT] = path.r > 0 ? -y / path.r : 0;
    return;
  }
  const u = path.emf * sine - path.k * (y - path.r * path.current);
  const current = kind === HOLD ? 0 : conductedCurrent(path, u);
  const intoNode = current - path.current;
  point[CURRENT] = current;
  point[NODE_VOLTS] = Math.max(0, path.k * (y + path.r * intoNode));
  point[CAPACITOR_CURRENT] = path.k * (intoNode - path.conductance * y);
}
