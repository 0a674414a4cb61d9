import { conductJunction } from './conduct-junction.js';
import { conductLinear } from './conduct-linear.js';
import { findOnset } from './onset.js';
import type { Workspace } from './pieces.js';
import { CLAMP, HOLD, addPiece, clampedCurrent, holdChange } from './pieces.js';

const CONDUCT = -1;

/** Hold, conduct and clamp may follow each other this often in one period; more is a fault. */
const MOST_CHANGES = 24;

/**
 * Follows the circuit over one period from capacitor volts y at angle `from` (0 = emf rising through
 * zero) and returns the change of y. Leaves the pieces, and in `logSensitivity` the logarithm of
 * d(y at the end)/d(y at the start). NaN when it can't be followed.
 */
export function runCycle(space: Workspace, y: number, share: number, from = 0): number {
  const { path } = space;
  space.pieceCount = 0;
  space.start = y;
  space.angle = from;
  space.change = 0;
  space.logSensitivity = 0;
  space.starved = false;
  let pulsed = false;
  let next = path.current > 0 && y <= path.r * path.current ? CLAMP : HOLD;
  for (let changes = 0; changes < MOST_CHANGES && space.angle < path.period; changes += 1) {
    if (next === CLAMP) next = clampUntilFed(space);
    else if (next === HOLD) next = holdUntilOvertaken(space, pulsed);
    else {
      const fellToZero = path.shockley ? conductJunction(space, share) : conductLinear(space);
      pulsed = !fellToZero;
      next = fellToZero ? CLAMP : HOLD;
    }
  }
  // Where the volts die within a pulse, a step's error may leave them a hair below zero.
  return space.angle >= path.period ? Math.max(space.change, -y) : NaN;
}

/** Free fall to the next conduction, to 0 V at the node, or to the end of the period. Returns what follows. */
function holdUntilOvertaken(space: Workspace, pulsed: boolean): number {
  const { path } = space;
  const from = space.angle;
  const y = space.start + space.change;
  const onset = pulsed || from >= Math.PI ? Infinity : findOnset(path, y, from);
  const empty = from + timeToEmpty(space, y);
  const until = Math.min(onset, empty, path.period);
  if (until > from) addPiece(space, HOLD, until);
  space.change += until === empty ? path.r * path.current - y : holdChange(path, y, until - from);
  space.logSensitivity -= path.gamma * (until - from);
  space.angle = until;
  if (until === empty) return CLAMP;
  return until === onset ? CONDUCT : HOLD;
}

/** Radians until a constant-current load has pulled the node to 0 V, y = r·I0. */
function timeToEmpty(space: Workspace, y: number): number {
  const { path } = space;
  if (path.current === 0) return Infinity;
  const integral = (y - path.r * path.current) / (path.kappa * (path.current + path.conductance * y));
  return path.gamma * integral < 1e-14 ? integral : -Math.log1p(-path.gamma * integral) / path.gamma;
}

/** Node held at 0 V until rectifier and capacitor can feed the load again or the period ends. */
function clampUntilFed(space: Workspace): number {
  const { path } = space;
  const fed = fedAgain(space);
  clampTo(space, Math.min(fed, path.period));
  return fed < path.period ? CONDUCT : CLAMP;
}

function clampTo(space: Workspace, until: number): void {
  const { path } = space;
  space.starved = true;
  const y = Math.max(0, space.start + space.change);
  space.change = y - space.start;
  if (until > space.angle) addPiece(space, CLAMP, until);
  const rate = path.r > 0 ? path.clampRate * (until - space.angle) : Infinity;
  space.logSensitivity -= rate;
  space.change += path.r > 0 ? y * Math.expm1(-rate) : -y;
  space.angle = until;
}

/** First angle before the crest at which the currents of rectifier and capacitor reach the load's. */
function fedAgain(space: Workspace): number {
  const from = space.angle;
  const crest = Math.PI / 2;
  if (from > crest + 1e-12) return Infinity;
  const enough = 1e-9 * space.path.current;
  // Only a period may begin fed; a node that has just fallen to 0 V must first fall short.
  if (space.pieceCount === 0 && surplus(space, from) > enough) return from;
  if (surplus(space, crest) <= enough) return Infinity;
  let low = from;
  let high = crest;
  for (let round = 0; round < 60 && high - low > 1e-13; round += 1) {
    const middle = (low + high) / 2;
    if (surplus(space, middle) > enough) high = middle;
    else low = middle;
  }
  return high;
}

function surplus(space: Workspace, angle: number): number {
  const { path } = space;
  const y = Math.max(0, space.start + space.change);
  const left = path.r > 0 ? (y * Math.exp(-path.clampRate * (angle - space.angle))) / path.r : 0;
  return clampedCurrent(path, Math.sin(angle)) + left - path.current;
}
