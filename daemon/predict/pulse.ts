/**
 * Charging pulses of a full-wave rectifier into a steady voltage: i = E (cos(wt) - cos(angle)) / R while
 * |wt| < angle. Textbook: O. H. Schade, Analysis of rectifier operation, Proc. IRE 1943.
 */

/**
 * Half the conduction angle, radians, at which the pulses' mean over half a cycle is `amps`:
 * amps = (2 E / (pi R)) (sin a - a cos a).
 * @returns null when the source can't deliver that current even into a short circuit.
 */
export function conductionAngle(amps: number, crest: number, ohms: number): number | null {
  const wanted = (amps * Math.PI * ohms) / (2 * crest);
  if (!(wanted < 1)) return null;
  // Convex and near a^3 / 3: Newton's steps from there come in from above and never leave the interval.
  let angle = Math.min(Math.PI / 2, Math.cbrt(3 * wanted));
  for (let step = 0; step < 50; step += 1) {
    const excess = Math.sin(angle) - angle * Math.cos(angle) - wanted;
    const next = Math.min(Math.PI / 2, angle - excess / (angle * Math.sin(angle)));
    if (Math.abs(next - angle) < 1e-14) return next;
    angle = next;
  }
  return angle;
}

/** Peak of one pulse, and RMS over the whole time, A: the integral of i squared over half a cycle. */
export function pulseOf(angle: number, crest: number, ohms: number): { peak: number; rms: number } {
  const c = Math.cos(angle);
  const squared = angle * (1 + 2 * c * c) - 3 * Math.sin(angle) * c;
  return {
    peak: (crest * (1 - c)) / ohms,
    rms: (crest / ohms) * Math.sqrt(Math.max(0, squared) / Math.PI),
  };
}
