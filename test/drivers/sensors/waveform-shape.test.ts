import { describe, expect, it } from 'vitest';
import { averageRespondingFactor } from '../../../drivers/sensors/waveform-shape.js';

describe('averageRespondingFactor', () => {
  it('leaves a sine as it is', () => {
    expect(averageRespondingFactor('sine')).toBe(1);
  });

  // pi sqrt 3 / (4 sqrt 2) = 0.96191, worked by hand from the average and the RMS of a triangle.
  it.each(['sawtooth', 'triangle'] as const)('makes up for the 3.8 %% that a %s reads too low', (shape) => {
    expect(1 / averageRespondingFactor(shape)).toBeCloseTo(0.96191, 5);
  });

  // A meter calibrated for 1.11 shows a square wave 11 % too high (Kuphaldt, Lessons in Electric Circuits, vol. II).
  it('takes off what a square wave reads too high', () => {
    expect(1 / averageRespondingFactor('square')).toBeCloseTo(1.1107, 4);
  });

  it('agrees with a sampled sawtooth', () => {
    const samples = Array.from({ length: 10_000 }, (_, index) => (index + 0.5) / 5000 - 1);
    const rms = Math.sqrt(samples.reduce((sum, x) => sum + x * x, 0) / samples.length);
    const average = samples.reduce((sum, x) => sum + Math.abs(x), 0) / samples.length;
    const shown = (average * Math.PI) / (2 * Math.SQRT2);
    expect(shown * averageRespondingFactor('sawtooth')).toBeCloseTo(rms, 6);
  });
});
