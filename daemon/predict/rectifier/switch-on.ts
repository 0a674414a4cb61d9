import type { RectifierCircuit } from './circuit.js';
import { RectifierError, describeCircuit } from './circuit.js';
import { runCycle } from './cycle.js';
import { SOLUTION } from './measure.js';
import type { Path } from './path.js';
import type { Workspace } from './pieces.js';
import { CURRENT, PIECE, createWorkspace, evaluatePiece, pieceVolts } from './pieces.js';
import { solveCircuit } from './steady-state.js';

/** What an empty reservoir does when the mains comes at the worst instant, the crest. */
export interface SwitchOn {
  /** Largest current in diodes and winding: nothing but resistance limits it. */
  readonly inrushPeakCurrent: number;
  /** From the switch until the capacitor has 90 % and 99 % of its steady mean; Infinity beyond `MOST_PULSES`. */
  readonly secondsTo90Percent: number;
  readonly secondsTo99Percent: number;
}

/** Charging is followed for this many pulses. */
export const MOST_PULSES = 20_000;

const SHARE = 1e-4;
const LOOKS_PER_PIECE = 8;

/**
 * Follows the first charging from empty, with the load on. The crest is the worst instant: the current
 * is limited by resistance alone and the capacitor's volts only oppose it, so none is larger than
 * (peak emf - drop)/resistance with the capacitor at 0 V. Inductance and core saturation, which add their
 * own surge in the primary, aren't in it. Throws RectifierError like `solveRectifier`.
 */
export function solveSwitchOn(circuit: RectifierCircuit, space: Workspace = createWorkspace()): SwitchOn {
  solveCircuit(circuit, space);
  const mean = space.solution[SOLUTION.meanVolts]!;
  scaleForCharging(space.path);
  const crest = Math.PI / 2;
  const reached = [Infinity, Infinity];
  let inrush = 0;
  let y = 0;
  let passed = -crest;
  for (let pulse = 0; pulse < MOST_PULSES && reached[1] === Infinity; pulse += 1) {
    const change = runCycle(space, y, SHARE, pulse === 0 ? crest : 0);
    if (Number.isNaN(change)) {
      throw new RectifierError(
        'rectifier-unsolved',
        `charging can't be followed past pulse ${pulse}`,
        describeCircuit(circuit),
      );
    }
    if (pulse === 0) inrush = currentAtStart(space, crest);
    for (let which = 0; which < 2; which += 1) {
      if (reached[which] !== Infinity) continue;
      reached[which] = (passed + firstReach(space, mean * (which === 0 ? 0.9 : 0.99))) / space.path.omega;
    }
    y += change;
    passed += space.path.period;
  }
  return { inrushPeakCurrent: inrush, secondsTo90Percent: reached[0]!, secondsTo99Percent: reached[1]! };
}

/** Errors count against the full volts now, and a current stops to matter where it no longer charges. */
function scaleForCharging(path: Path): void {
  path.scaleVolts = Math.max(path.scaleVolts, 0.01 * path.emf);
  path.scaleCurrent = Math.max(path.scaleCurrent, path.scaleVolts / (path.kappa * path.period));
  if (!path.shockley || path.onsetCurrent > 0) return;
  path.onsetCurrent = 1e-6 * path.scaleCurrent;
  path.onsetVolts =
    path.resistance * path.onsetCurrent + path.junction * Math.log1p(path.onsetCurrent / path.saturation);
}

function currentAtStart(space: Workspace, angle: number): number {
  evaluatePiece(space, 0, angle);
  return space.point[CURRENT]!;
}

/** First angle of the cycle at which the capacitor has these volts, or Infinity. */
function firstReach(space: Workspace, volts: number): number {
  for (let at = 0; at < space.pieceCount * PIECE; at += PIECE) {
    const from = space.pieces[at + 1]!;
    const span = space.pieces[at + 2]! - from;
    for (let look = 0; look <= LOOKS_PER_PIECE; look += 1) {
      const angle = from + (span * look) / LOOKS_PER_PIECE;
      if (pieceVolts(space, at, angle) < volts) continue;
      return look === 0 ? angle : narrow(space, at, angle - span / LOOKS_PER_PIECE, angle, volts);
    }
  }
  return Infinity;
}

function narrow(space: Workspace, at: number, below: number, above: number, volts: number): number {
  let low = below;
  let high = above;
  for (let round = 0; round < 40; round += 1) {
    const middle = (low + high) / 2;
    if (pieceVolts(space, at, middle) < volts) low = middle;
    else high = middle;
  }
  return high;
}
