/**
 * Seconds until a first-order low pass reaches `fraction` of its end value after switch-on: −τ·ln(1 − fraction).
 * 95 % takes 3τ (ln 20 = 2.996), 99 % 4.6τ. Textbook step answer.
 */
export function turnOnSeconds(timeConstant: number, fraction: number): number {
  if (!(fraction >= 0 && fraction < 1)) {
    throw new RangeError(`the fraction of the end value must lie in [0, 1); it is ${fraction}`);
  }
  return -timeConstant * Math.log1p(-fraction);
}
