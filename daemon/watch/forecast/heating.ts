/**
 * How far a part has warmed, x (1 = settled), `seconds` later. x' = (1 - x·((1 - k) + k·x^¼))/tau: losses that grow
 * by the power 1.25 of the rise for natural convection (W. H. McAdams, Heat Transmission, laminar plates) and in
 * proportion for a fan, `k` the share of the former. Steps of a tenth of tau with the losses' factor held are within
 * 1e-3 of the exact curve.
 */
export function warmed(x: number, seconds: number, tau: number, k: number): number {
  let left = seconds;
  let now = x;
  while (left > 1e-9) {
    const step = Math.min(left, tau * LONGEST_STEP);
    const factor = lossFactor(now, k);
    const target = 1 / factor;
    now = target + (now - target) * Math.exp((-factor * step) / tau);
    left -= step;
  }
  return now;
}

/** Seconds from x until `goal`; Infinity when it is never reached. */
export function secondsUntil(goal: number, x: number, tau: number, k: number): number {
  if (goal <= x) return 0;
  if (goal >= 1) return Infinity;
  let seconds = 0;
  const width = (goal - x) / PANELS;
  for (let panel = 0; panel < PANELS; panel += 1) {
    const from = x + panel * width;
    const middle = from + width / 2;
    const until = from + width;
    // Simpson's rule on dt = dx / x'.
    seconds += (width / 6) * (1 / pace(from, k) + 4 / pace(middle, k) + 1 / pace(until, k));
  }
  return seconds * tau;
}

const LONGEST_STEP = 0.1;
const PANELS = 24;
const SMALLEST = 1e-6;

function pace(x: number, k: number): number {
  return 1 - x * lossFactor(x, k);
}

function lossFactor(x: number, k: number): number {
  return 1 - k + k * Math.sqrt(Math.sqrt(Math.max(x, SMALLEST)));
}
