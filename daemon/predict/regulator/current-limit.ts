/** The current at which a regulator limits, at an input-output difference. */
export interface CurrentLimitPoint {
  /** Input minus output, V. */
  readonly difference: number;
  readonly amps: number;
}

/**
 * Current limit at an input-output difference (V), straight between published points and flat beyond them, A.
 * LM317 datasheets print 2.2 A typical up to 15 V and 0.4 A at 40 V; the curve between is from memory
 * a little lower than the straight line, so don't lean on it there. Points in rising difference.
 */
export function currentLimit(points: readonly CurrentLimitPoint[], difference: number): number {
  const after = points.findIndex((point) => point.difference >= difference);
  const upper = points[after < 0 ? points.length - 1 : after];
  if (upper === undefined) return Infinity;
  if (after <= 0) return upper.amps;
  const lower = points[after - 1]!;
  const share = (difference - lower.difference) / (upper.difference - lower.difference);
  return lower.amps + share * (upper.amps - lower.amps);
}

/**
 * Where a rail ends that feeds a resistance (ohm) behind a current limit: its set volts, or lower.
 * The limit shrinks as the output falls, so the rail goes to the highest volts that its limit still carries.
 */
export function limitedVolts(
  points: readonly CurrentLimitPoint[],
  setVolts: number,
  inputVolts: number,
  loadOhms: number,
): number {
  const excess = (volts: number): number => volts / loadOhms - currentLimit(points, inputVolts - volts);
  if (excess(setVolts) <= 0) return setVolts;
  const steps = 64;
  let upper = setVolts;
  let lower = setVolts;
  for (let k = steps - 1; k >= 0 && excess(lower) > 0; k--) {
    upper = lower;
    lower = (setVolts * k) / steps;
  }
  for (let k = 0; k < 60; k++) {
    const middle = (lower + upper) / 2;
    if (excess(middle) > 0) upper = middle;
    else lower = middle;
  }
  return lower;
}
