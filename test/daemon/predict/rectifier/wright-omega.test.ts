import { describe, expect, it } from 'vitest';
import { wrightOmega, wrightOmegaInPlace } from '../../../../daemon/predict/rectifier/wright-omega.js';

describe('Wright omega', () => {
  it('is 1 at 1 and the omega constant 0.5671432904 at 0 (OEIS A030178)', () => {
    expect(wrightOmega(1)).toBeCloseTo(1, 8);
    expect(wrightOmega(0)).toBeCloseTo(0.5671432904, 8);
  });

  it('obeys w + ln w = s from deep below to far above its table', () => {
    for (let s = -60; s < 5000; s += 0.37) {
      const w = wrightOmega(s);
      expect(Math.abs(w + Math.log(w) - s)).toBeLessThan(2e-7 * Math.max(1, w));
    }
  });

  it('replaces in place what it gives one by one', () => {
    const values = Float64Array.of(-30, -3.3, 0, 17.2, 135.99, 136, 900);
    const single = values.map((s) => wrightOmega(s));
    wrightOmegaInPlace(values, values.length);
    expect(values).toEqual(single);
  });
});
