/**
 * Writes cos(n·angle) and sin(n·angle) for n = 1 to `count` into `row` from `start`, by the angle-addition rule
 * (Abramowitz and Stegun, 4.3.16-17).
 */
export function fillHarmonics(row: Float64Array, start: number, angle: number, count: number): void {
  const cosine = Math.cos(angle);
  const sine = Math.sin(angle);
  let c = 1;
  let s = 0;
  for (let n = 0; n < count; n += 1) {
    const next = c * cosine - s * sine;
    s = s * cosine + c * sine;
    c = next;
    row[start + 2 * n] = c;
    row[start + 2 * n + 1] = s;
  }
}

/** Amplitude of harmonic n (from 1) where its cosine and sine coefficients stand in pairs from `start`. */
export function amplitudeOf(coefficients: Float64Array, start: number, n: number): number {
  const at = start + 2 * (n - 1);
  return Math.sqrt(coefficients[at]! ** 2 + coefficients[at + 1]! ** 2);
}
