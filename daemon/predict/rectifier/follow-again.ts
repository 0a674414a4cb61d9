import type { Workspace } from './pieces.js';
import { HOLD, PIECE, STEP, holdChange } from './pieces.js';
import { solveStages, stepDamping } from './radau.js';

/**
 * Follows the period that `space` holds once more, from capacitor volts y next to the ones before: over the same
 * pieces, whose stages are so nearly right that one round of Newton's method mends them. Returns the change of y
 * and leaves `logSensitivity` as `runCycle` does; NaN where pieces are of other kinds or don't converge.
 */
export function followAgain(space: Workspace, y: number): number {
  const { path, pieces } = space;
  space.start = y;
  space.logSensitivity = 0;
  let change = 0;
  let damping = 0;
  for (let at = 0; at < space.pieceCount * PIECE; at += PIECE) {
    pieces[at + 3] = change;
    const span = pieces[at + 2]! - pieces[at + 1]!;
    if (pieces[at] === STEP) {
      if (!solveStages(space, at)) return NaN;
      change += pieces[at + 6]!;
      damping += stepDamping(space, span);
    } else if (pieces[at] === HOLD) {
      change += holdChange(path, y + change, span);
      damping += path.gamma * span;
    } else return NaN;
  }
  space.change = change;
  space.logSensitivity = -damping;
  return change;
}
