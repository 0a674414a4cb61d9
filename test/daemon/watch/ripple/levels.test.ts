import { describe, expect, it } from 'vitest';
import { clippingOf, levelsOf } from '../../../../daemon/watch/ripple/levels.js';
import { normalNoise } from '../random.js';

/** A sine of so many steps either side of 0, shifted, held within a converter's range, at 5000 instants. */
function sine(steps: number, shift: number, low: number, high: number): Int16Array {
  return Int16Array.from({ length: 5000 }, (_, i) =>
    Math.min(high, Math.max(low, Math.round(steps * Math.sin(i / 37.1) + shift))),
  );
}

describe('levels of a capture', () => {
  it('are one count apart, and how often each was', () => {
    expect(levelsOf(Int8Array.of(3, 5, 4, 3, 3, 7))).toEqual({
      step: 1,
      lowest: 3,
      counts: Uint32Array.of(3, 1, 1, 0, 1),
    });
  });

  it('are 256 counts apart where 8 bits come in words of 16', () => {
    const words = sine(90, 0, -128, 127).map((count) => 256 * count);
    const levels = levelsOf(words)!;
    expect(levels.step).toBe(256);
    expect(levels.counts.length).toBe(181);
  });

  it('are found in volts too, in spite of their rounding', () => {
    const volts = Float64Array.from(sine(90, 0, -128, 127), (count) => 0.1 * count + 12.3);
    const levels = levelsOf(volts)!;
    expect(levels.step).toBeCloseTo(0.1, 9);
    expect(levels.counts.length).toBe(181);
  });

  it('are none where volts aren’t quantised (seed 8), or never change', () => {
    expect(levelsOf(Float64Array.from({ length: 1000 }, normalNoise(8)))).toBeNull();
    expect(levelsOf(new Float64Array(1000).fill(1.5))).toBeNull();
    expect(levelsOf(new Int8Array(1000))).toBeNull();
  });
});

describe('clipping', () => {
  it.each([
    ['8 bits, signed', -128, 127],
    ['8 bits, unsigned', 0, 255],
    ['12 bits, signed', -2048, 2047],
    ['12 bits, unsigned', 0, 4095],
  ])('is told of %s on both sides', (_, low, high) => {
    const half = (high - low) / 2;
    const clipped = clippingOf(levelsOf(sine(1.1 * half, low + half, low, high))!)!;
    // A sine spends acos(1/1.1)/π = 13.7 % of its time above 1/1.1 of its amplitude.
    expect(clipped.low).toBeCloseTo(0.137, 1);
    expect(clipped.high).toBeCloseTo(0.137, 1);
  });

  it('is told on the side where it is', () => {
    const clipped = clippingOf(levelsOf(sine(150, -30, -128, 127))!)!;
    expect(clipped.low).toBeGreaterThan(0.1);
    expect(clipped.high).toBe(0);
  });

  it('is not seen where a sine just fills the range, or stays within it', () => {
    expect(clippingOf(levelsOf(sine(127, 0, -128, 127))!)).toBeNull();
    expect(clippingOf(levelsOf(sine(100, 3, -128, 127))!)).toBeNull();
  });

  it('can’t be told from a flat top with a handful of levels', () => {
    expect(clippingOf(levelsOf(sine(4, 0, -2, 3))!)).toBeNull();
  });
});
