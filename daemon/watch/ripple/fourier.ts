/**
 * Discrete Fourier transform in place, of a power of two of complex numbers: X[k] = Σ x[i]·exp(-2πi·k·i/n) (Cooley and
 * Tukey, 1965). Kept whole: one pass to reorder, one to combine.
 */
export function transform(real: Float64Array, imaginary: Float64Array, turns = unitTurns(real.length)): void {
  const n = real.length;
  const { cosines, sines } = turns;
  for (let i = 1, j = 0; i < n; i += 1) {
    let bit = n >> 1;
    for (; (j & bit) !== 0; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i >= j) continue;
    [real[i], real[j]] = [real[j]!, real[i]!];
    [imaginary[i], imaginary[j]] = [imaginary[j]!, imaginary[i]!];
  }
  for (let half = 1; half < n; half *= 2) {
    const stride = n / (2 * half);
    for (let start = 0; start < n; start += 2 * half) {
      for (let k = 0; k < half; k += 1) {
        const low = start + k;
        const high = low + half;
        const c = cosines[k * stride]!;
        const s = sines[k * stride]!;
        const re = real[high]! * c - imaginary[high]! * s;
        const im = real[high]! * s + imaginary[high]! * c;
        real[high] = real[low]! - re;
        imaginary[high] = imaginary[low]! - im;
        real[low]! += re;
        imaginary[low]! += im;
      }
    }
  }
}

interface Turns {
  readonly cosines: Float64Array;
  readonly sines: Float64Array;
}

/** exp(-2πi·k/n) for the first half of a turn. */
function unitTurns(n: number): Turns {
  const cosines = new Float64Array(n >> 1);
  const sines = new Float64Array(n >> 1);
  for (let k = 0; k < n >> 1; k += 1) {
    cosines[k] = Math.cos((2 * Math.PI * k) / n);
    sines[k] = -Math.sin((2 * Math.PI * k) / n);
  }
  return { cosines, sines };
}

/**
 * Mean power in each of the frequencies 0 to half of the sampling rate, V² a bin: the parts of the trace, half over
 * one another, each under Hann's window (Welch, 1967). The bins' sum is the mean square.
 */
export function meanPower(values: Float64Array, size: number): Float64Array {
  const window = Float64Array.from(
    { length: size },
    (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size),
  );
  const turns = unitTurns(size);
  const power = new Float64Array(size / 2);
  const real = new Float64Array(size);
  const imaginary = new Float64Array(size);
  let parts = 0;
  // Two parts a transform: one as the real, one as the imaginary half.
  for (let start = 0; start + size + size / 2 <= values.length || parts === 0; start += size) {
    const second = Math.min(start + size / 2, values.length - size);
    for (let i = 0; i < size; i += 1) {
      real[i] = values[start + i]! * window[i]!;
      imaginary[i] = values[second + i]! * window[i]!;
    }
    transform(real, imaginary, turns);
    for (let k = 0; k < size / 2; k += 1)
      power[k]! +=
        real[k]! ** 2 + imaginary[k]! ** 2 + (k > 0 ? real[size - k]! ** 2 + imaginary[size - k]! ** 2 : 0);
    parts += 2;
  }
  // A window of mean square 3/8; both signs of a frequency are in `power` once for each of the two parts.
  const scale = 1 / (parts * 0.375 * size * size);
  return power.map((sum) => sum * scale);
}
