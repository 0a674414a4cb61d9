import type { Path } from './path.js';

/**
 * Capacitor volts at the emf's zero, near enough to start Newton's method.
 *
 * One pulse is taken as a parabola of height `peak` whose half-width comes from the sine's curvature,
 * widened for a junction so that a current too small for the resistance has the width of a Gaussian.
 */
export function guessStart(path: Path): number {
  if (!(path.scaleCurrent > 0)) return 0;
  let start = 0.8 * path.emf;
  for (let round = 0; round < 2; round += 1) {
    const mean = Math.min(path.scaleCurrent, path.current + path.conductance * start);
    const peak = pulsePeak(path, mean * path.period);
    const junction = path.shockley ? path.junction * Math.log1p(peak / path.saturation) : path.drop;
    const atPulse = path.emf - junction - path.resistance * peak;
    // A half-wave rectifier's emf crosses zero a quarter cycle later on the reservoir's way down.
    start = atPulse - path.kappa * mean * (path.period - Math.PI) * 0.5;
    start = Math.min(path.emf, Math.max(0.05 * path.emf, start));
  }
  return start;
}

function pulseHalfWidth(path: Path, peak: number): number {
  return Math.min(1.5, Math.sqrt((2 * (path.resistance * peak + 1.77 * path.junction)) / path.emf));
}

/** Height of a parabola with this area (A·rad). */
function pulsePeak(path: Path, charge: number): number {
  let peak = (0.75 * charge) / 0.5;
  for (let round = 0; round < 12; round += 1)
    peak = (peak + (0.75 * charge) / pulseHalfWidth(path, peak)) / 2;
  return peak;
}
