/** A body whose losses grow by the power 1.25 of its rise (W. H. McAdams, Heat Transmission: natural convection, plates). */
export interface AirCooled {
  readonly airC: number;
  readonly joulesPerK: number;
  /** At full power, over the air, K. */
  readonly settledK: number;
  readonly fullW: number;
}

const STEP_S = 0.1;

/** Its temperature at every whole second, degrees C, by explicit midpoint steps (any text on numerical analysis). */
export function airCooled(
  { airC, joulesPerK, settledK, fullW }: AirCooled,
  wattsAt: (second: number) => number,
  seconds: number,
): readonly number[] {
  const slope = (riseK: number, second: number): number =>
    (wattsAt(second) - fullW * Math.max(0, riseK / settledK) ** 1.25) / joulesPerK;
  const found: number[] = [];
  let riseK = 0;
  for (let step = 0; step <= seconds / STEP_S; step += 1) {
    const second = step * STEP_S;
    if (step % 10 === 0) found.push(airC + riseK);
    const half = riseK + (STEP_S / 2) * slope(riseK, second);
    riseK += STEP_S * slope(half, second + STEP_S / 2);
  }
  return found;
}
