import type { Path } from './path.js';
import { decayIntegral } from './pieces.js';

const MOST_ROUNDS = 120;

/**
 * Angle in [angle, pi] at which the emf overtakes a reservoir that falls freely from y, or Infinity.
 *
 * The excess is concave in the angle (a sine minus a decaying exponential), so Newton's method from
 * where it is negative and rising goes to the first root without passing it, and from beyond the root
 * comes back before it. A guess that fell past the top starts again from the left end.
 */
export function findOnset(path: Path, y: number, angle: number): number {
  const offset = path.k * (path.r * path.current - y) - path.onsetVolts;
  const load = path.k * path.kappa * (path.current + path.conductance * y);
  if (path.emf * Math.sin(angle) + offset >= 0) return angle;
  let at = firstGuess(path, offset, load, angle);
  let fromLeft = false;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const span = at - angle;
    const excess = path.emf * Math.sin(at) + offset + load * decayIntegral(path.gamma, span);
    const slope = path.emf * Math.cos(at) + load * Math.exp(-path.gamma * span);
    const next = slope > 0 ? Math.max(angle, at - excess / slope) : Infinity;
    if (Math.abs(next - at) < 1e-9) return next;
    if (next > Math.PI && fromLeft) return Infinity;
    fromLeft ||= next > Math.PI;
    at = next > Math.PI ? angle : next;
  }
  return at;
}

/** Where an undiminished reservoir would be overtaken, moved back for what it loses on the way. */
function firstGuess(path: Path, offset: number, load: number, angle: number): number {
  const flat = Math.min(1, -offset / path.emf);
  const late = Math.asin(flat);
  const lost = load * decayIntegral(path.gamma, Math.max(0, late - angle));
  return Math.max(angle, Math.asin(Math.min(1, Math.max(0, flat - lost / path.emf))));
}
