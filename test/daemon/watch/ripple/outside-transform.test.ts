import FFT from 'fft.js';
import { describe, expect, it } from 'vitest';
import { analyseRipple } from '../../../../daemon/watch/ripple/analyse.js';
import { foldMains, type Fold } from '../../../../daemon/watch/ripple/fold.js';
import { meanPower, transform } from '../../../../daemon/watch/ripple/fourier.js';
import type { RippleFound } from '../../../../daemon/watch/ripple/ripple.js';
import { normalNoise, uniformNoise } from '../random.js';

// What is expected here is worked out by the package fft.js (a radix-4 transform), never by the code under test.

/** Real and imaginary parts in turn of the spectrum of real samples, a power of two of them. */
function outsideSpectrum(samples: Float64Array): readonly number[] {
  const fft = new FFT(samples.length);
  const spectrum = fft.createComplexArray() as number[];
  fft.realTransform(spectrum, Array.from(samples));
  fft.completeSpectrum(spectrum);
  return spectrum;
}

/** Amplitude of the line at a bin of a trace that holds a whole number of its periods. */
function lineAt(spectrum: readonly number[], bin: number): number {
  return Math.hypot(spectrum[2 * bin]!, spectrum[2 * bin + 1]!) / (spectrum.length / 4);
}

const SIZE = 4096;
const HERTZ = 50;

/** A ripple's harmonics of the mains: even ones that fall off as a saw-tooth's do, odd ones a share of them. */
interface Harmonics {
  readonly amplitudes: readonly number[];
  readonly phases: readonly number[];
}

function harmonicsOf(seed: number, odd: number): Harmonics {
  const uniform = uniformNoise(seed);
  const turn = uniform();
  const orders = Array.from({ length: 24 }, (_, at) => at + 1);
  return {
    amplitudes: orders.map((n) => ((n % 2 === 1 ? odd : 1) * (0.9 + 0.2 * uniform())) / n),
    // A saw-tooth is a sum of sines that begin together; it may begin anywhere.
    phases: orders.map((n) => 2 * Math.PI * n * turn - Math.PI / 2),
  };
}

function voltsOf({ amplitudes, phases }: Harmonics, turns: number): number {
  return amplitudes.reduce((sum, amplitude, at) => {
    return sum + amplitude * Math.cos(2 * Math.PI * (at + 1) * turns + phases[at]!);
  }, 0);
}

function capture(harmonics: Harmonics, periods: number): { volts: Float64Array; stepSeconds: number } {
  const volts = Float64Array.from({ length: SIZE }, (_, i) => voltsOf(harmonics, (i * periods) / SIZE));
  return { volts, stepSeconds: periods / HERTZ / SIZE };
}

function found(volts: Float64Array, stepSeconds: number): RippleFound {
  const told = analyseRipple(volts, {
    scale: 1,
    offset: 0,
    stepSeconds,
    coupling: 'unknown',
    expectedHertz: HERTZ,
  });
  if (told.kind !== 'found') throw new Error(`found nothing: ${JSON.stringify(told)}`);
  return told;
}

describe('the transform', () => {
  it.each([4, 64, 1024, 8192])('of %i complex numbers (seed 21) is that of fft.js', (n) => {
    const normal = normalNoise(21);
    const fft = new FFT(n);
    const input = Array.from({ length: 2 * n }, normal);
    const expected = fft.createComplexArray() as number[];
    fft.transform(expected, input);
    const real = Float64Array.from({ length: n }, (_, i) => input[2 * i]!);
    const imaginary = Float64Array.from({ length: n }, (_, i) => input[2 * i + 1]!);
    transform(real, imaginary);
    for (let k = 0; k < n; k += 1) {
      expect(real[k]).toBeCloseTo(expected[2 * k]!, 8);
      expect(imaginary[k]).toBeCloseTo(expected[2 * k + 1]!, 8);
    }
  });
});

describe('the mean power in each frequency', () => {
  // Welch's parts under Hann's window, each through fft.js; one-sided, so everything above 0 Hz counts twice.
  function outsidePower(values: Float64Array, size: number, starts: readonly number[]): Float64Array {
    const power = new Float64Array(size / 2);
    for (const start of starts) {
      const part = Float64Array.from(
        { length: size },
        (_, i) => values[start + i]! * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size)),
      );
      const spectrum = outsideSpectrum(part);
      for (let k = 0; k < size / 2; k += 1) {
        const square = spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2;
        power[k]! += ((k === 0 ? 1 : 2) * square) / (starts.length * 0.375 * size * size);
      }
    }
    return power;
  }

  it.each([
    ['noise (seed 22)', normalNoise(22)],
    ['harmonics that fit no whole number of times', (i: number) => Math.sin(0.31 * i) + Math.cos(0.9 * i)],
  ] as const)('of %s is that of the same parts through fft.js', (_, make) => {
    const values = Float64Array.from({ length: 4 * 512 }, (__, i) => make(i));
    const expected = outsidePower(values, 512, [0, 256, 512, 768, 1024, 1280]);
    const power = meanPower(values, 512);
    for (let k = 0; k < power.length; k += 1) expect(power[k]).toBeCloseTo(expected[k]!, 10);
  });
});

describe('the fold over the mains', () => {
  /** Amplitude of harmonic n of a fold, by the sum that defines it. */
  function ofFold({ phases, values, weights }: Fold, n: number): number {
    let [cosine, sine, count] = [0, 0, 0];
    for (let i = 0; i < values.length; i += 1) {
      const angle = 2 * Math.PI * n * phases[i]!;
      cosine += weights[i]! * values[i]! * Math.cos(angle);
      sine += weights[i]! * values[i]! * Math.sin(angle);
      count += weights[i]!;
    }
    return (2 / count) * Math.hypot(cosine, sine);
  }

  it.each([31, 32, 33])('keeps the harmonics that fft.js finds (seed %i, 8 whole periods)', (seed) => {
    const { volts, stepSeconds } = capture(harmonicsOf(seed, 0.4), 8);
    const spectrum = outsideSpectrum(volts);
    const mains = { hertz: HERTZ, deviation: 0, drift: 0, ratio: 100 };
    const fold = foldMains({ values: volts, stepSeconds }, mains);
    for (let n = 1; n <= 8; n += 1) {
      // A mean over 1/240 of a period takes sinc(n/240) of a harmonic: less than 2 in 1000 up to the eighth.
      expect(Math.abs(ofFold(fold, n) / lineAt(spectrum, 8 * n) - 1)).toBeLessThan(0.003);
    }
  });
});

describe('the shares at f, 2f and 4f', () => {
  /** Of the largest line: a fitted ripple isn't the sum of harmonics that made it, whose every order is a little off. */
  const SLACK = 0.02;
  const seeds = Array.from({ length: 10 }, (_, at) => at + 41);

  it.each(seeds)('seed %i, both halves alike: as fft.js finds them in 8 whole periods', (seed) => {
    const { volts, stepSeconds } = capture(harmonicsOf(seed, 0), 8);
    const spectrum = outsideSpectrum(volts);
    const told = found(volts, stepSeconds);
    const largest = lineAt(spectrum, 16);
    expect(told.atMains).toBeLessThan(SLACK * largest);
    expect(Math.abs(told.atTwiceMains / largest - 1)).toBeLessThan(SLACK);
    expect(Math.abs(told.atFourTimesMains - lineAt(spectrum, 32))).toBeLessThan(SLACK * largest);
  });

  it.each(seeds)('seed %i, one half only: as fft.js finds them in 8 whole periods', (seed) => {
    const { volts, stepSeconds } = capture(harmonicsOf(seed, 1), 8);
    const spectrum = outsideSpectrum(volts);
    const told = found(volts, stepSeconds);
    const largest = lineAt(spectrum, 8);
    expect(Math.abs(told.atMains / largest - 1)).toBeLessThan(SLACK);
    expect(Math.abs(told.atTwiceMains - lineAt(spectrum, 16))).toBeLessThan(SLACK * largest);
    expect(Math.abs(told.atFourTimesMains - lineAt(spectrum, 32))).toBeLessThan(SLACK * largest);
  });

  /**
   * Flat-topped window (five cosines, as spectrum analysers use; its coefficients from memory, scaled to a gain of 1):
   * a line's height to 0.2 % wherever it falls between two bins.
   */
  function windowedLine(volts: Float64Array, bins: number): number {
    const terms = [1, -1.93, 1.29, -0.388, 0.028];
    const window = (i: number): number =>
      terms.reduce((sum, term, n) => sum + term * Math.cos((2 * Math.PI * n * i) / SIZE), 0);
    const spectrum = outsideSpectrum(volts.map((v, i) => v * window(i)));
    return lineAt(spectrum, Math.round(bins));
  }

  it.each([12.37, 17.5, 9.81])('%d periods: as fft.js finds them under a flat-topped window', (periods) => {
    for (const odd of [0, 1]) {
      const { volts, stepSeconds } = capture(harmonicsOf(51, odd), periods);
      const told = found(volts, stepSeconds);
      const twice = windowedLine(volts, 2 * periods);
      const once = windowedLine(volts, periods);
      const slack = SLACK * Math.max(once, twice);
      expect(Math.abs(told.atMains - once)).toBeLessThan(slack);
      expect(Math.abs(told.atTwiceMains - twice)).toBeLessThan(slack);
      expect(Math.abs(told.atFourTimesMains - windowedLine(volts, 4 * periods))).toBeLessThan(slack);
    }
  });
});
