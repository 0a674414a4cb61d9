const FIRST = -24;
const LAST = 136;
const PER_UNIT = 16;
/** Omega at every knot, and beside it by how much its slope w/(1 + w) raises it from knot to knot. */
const table = tabulate();

/**
 * Wright's omega for a real argument: the w with w + ln w = s (R. Corless and D. Jeffrey, "The Wright
 * omega function", LNCS 2385, 2002). A junction in series with a resistance has its current as one:
 * A·i + B·ln(1 + i/Is) = u gives i = (B/A)·omega(u/B + A·Is/B + ln(A·Is/B)) - Is.
 *
 * Cubic Hermite interpolation with the exact slope w/(1 + w); relative error below 1e-7.
 */
export function wrightOmega(s: number): number {
  if (s < FIRST) return Math.exp(s);
  if (s >= LAST) return omegaOfLarge(s);
  const x = (s - FIRST) * PER_UNIT;
  const j = x | 0;
  const t = x - j;
  const w0 = table[2 * j]!;
  const m0 = table[2 * j + 1]!;
  const rise = table[2 * j + 2]! - w0;
  const m1 = table[2 * j + 3]!;
  return w0 + t * (m0 + t * (3 * rise - 2 * m0 - m1 + t * (m0 + m1 - 2 * rise)));
}

/** Replaces the first `count` values by their omega; a typed array because passing doubles boxes them. */
export function wrightOmegaInPlace(values: Float64Array, count: number): void {
  for (let index = 0; index < count; index += 1) {
    const s = values[index]!;
    if (!(s >= FIRST && s < LAST)) {
      values[index] = wrightOmega(s);
      continue;
    }
    const x = (s - FIRST) * PER_UNIT;
    const j = x | 0;
    const t = x - j;
    const w0 = table[2 * j]!;
    const m0 = table[2 * j + 1]!;
    const rise = table[2 * j + 2]! - w0;
    const m1 = table[2 * j + 3]!;
    values[index] = w0 + t * (m0 + t * (3 * rise - 2 * m0 - m1 + t * (m0 + m1 - 2 * rise)));
  }
}

/** First terms of the expansion at infinity (same paper, eq. for de Bruijn's series). */
function omegaOfLarge(s: number): number {
  const log = Math.log(s);
  return s - log + (log / s) * (1 + (log - 2) / (2 * s) + (2 * log * log - 9 * log + 6) / (6 * s * s));
}

function tabulate(): Float64Array {
  const knots = (LAST - FIRST) * PER_UNIT + 2;
  const values = new Float64Array(2 * knots);
  let w = Math.exp(FIRST);
  for (let j = 0; j < knots; j += 1) {
    const s = FIRST + j / PER_UNIT;
    for (let round = 0; round < 6; round += 1) w *= (1 + s - Math.log(w)) / (1 + w);
    values[2 * j] = w;
    values[2 * j + 1] = w / (1 + w) / PER_UNIT;
  }
  return values;
}
