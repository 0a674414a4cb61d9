import { describe, expect, it } from 'vitest';
import { meanPower, transform } from '../../../../daemon/watch/ripple/fourier.js';
import { normalNoise } from '../random.js';

/** The transform by its definition, one sum a frequency. */
function plainTransform(real: Float64Array, imaginary: Float64Array): [Float64Array, Float64Array] {
  const n = real.length;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  for (let k = 0; k < n; k += 1) {
    for (let i = 0; i < n; i += 1) {
      const angle = (-2 * Math.PI * k * i) / n;
      re[k]! += real[i]! * Math.cos(angle) - imaginary[i]! * Math.sin(angle);
      im[k]! += real[i]! * Math.sin(angle) + imaginary[i]! * Math.cos(angle);
    }
  }
  return [re, im];
}

describe('Fourier transform', () => {
  it.each([1, 2, 4, 8, 256])('of %i numbers (seed 6) is the sum of its definition', (n) => {
    const normal = normalNoise(6);
    const real = Float64Array.from({ length: n }, normal);
    const imaginary = Float64Array.from({ length: n }, normal);
    const [re, im] = plainTransform(real, imaginary);
    transform(real, imaginary);
    for (let k = 0; k < n; k += 1) {
      expect(real[k]).toBeCloseTo(re[k]!, 9);
      expect(imaginary[k]).toBeCloseTo(im[k]!, 9);
    }
  });
});

describe('mean power', () => {
  it('sums to the mean square of noise (seed 7; Parseval)', () => {
    const values = Float64Array.from({ length: 32_768 }, normalNoise(7));
    const sum = meanPower(values, 1024).reduce((total, power) => total + power, 0);
    expect(sum).toBeGreaterThan(0.96);
    expect(sum).toBeLessThan(1.04);
  });

  it('has half the square of a sine’s amplitude at its frequency', () => {
    const values = Float64Array.from(
      { length: 4096 },
      (_, i) => 3 * Math.sin((2 * Math.PI * 100.3 * i) / 1024),
    );
    const power = meanPower(values, 1024);
    const line = power.subarray(97, 105).reduce((total, one) => total + one, 0);
    expect(Math.abs(line / 4.5 - 1)).toBeLessThan(0.01);
  });

  it('takes a trace as long as one part', () => {
    const values = Float64Array.from({ length: 256 }, (_, i) => Math.sin((2 * Math.PI * 32 * i) / 256));
    expect(meanPower(values, 256)[32]).toBeCloseTo(1 / 3, 2);
  });
});
