import { describe, expect, it } from 'vitest';
import { dummyLoad } from '../../../daemon/predict/first-power.js';
import { predict } from '../../../daemon/predict/predict.js';
import { cabin, type Change } from '../design/signal-cabin.js';

const reservoirOf = (...changes: readonly Change[]) =>
  predict(cabin(...changes), { load: 'typical' }).parts['reservoir'] ?? {};

describe('the dummy load', () => {
  // Ohm's law: 5 V / 0.25 A = 20 ohm, the nearest E12 values are 18 and 22; 25 / 22 = 1.14 W, twice that 2.3 W.
  it('is a preferred value that stands twice its heat', () => {
    expect(dummyLoad(5, 0.25)).toEqual({ ohms: 22, ratedWatts: 3 });
    // 12 V / 1 A = 12 ohm; 12 W, twice that 24 W.
    expect(dummyLoad(12, 1)).toEqual({ ohms: 12, ratedWatts: 25 });
  });

  it('is none when nothing is drawn', () => {
    expect(dummyLoad(5, 0)).toBeNull();
  });
});

describe('switching', () => {
  // t = R C ln(v0 / v1): 4700 ohm x 4.7 mF x ln(19.6 / 1) = 65.7 s.
  it('says how long the bleed resistor takes', () => {
    const seconds = reservoirOf()['safe_after_with_bleed_s'];
    expect(seconds).toBeGreaterThan(64);
    expect(seconds).toBeLessThan(67.5);
    expect(reservoirOf(['bleed: 4700', '# bleed: 4700'])['safe_after_with_bleed_s']).toBeUndefined();
  });

  // Ohm's law: the crest of 16.8 V RMS over at least the winding's 0.9 ohm; the lamp's cold 63 ohm at 230 V come on top.
  it('limits the inrush by the winding, and much more by a lamp', () => {
    const { inrush_peak_A: plain = NaN, lamp_inrush_peak_A: lamp = NaN } = reservoirOf();
    expect(plain).toBeLessThan((16.8 * Math.SQRT2) / 0.9);
    expect(plain).toBeGreaterThan(10);
    expect(lamp).toBeLessThan(plain);
  });

  // Common practice: with nothing drawn the lamp stays dark and the supply reads nearly its full volts.
  it('reads nearly full volts behind the lamp with nothing drawn', () => {
    const { lamp_unloaded_V: volts = NaN } = reservoirOf();
    expect(volts).toBeGreaterThan(21);
    expect(volts).toBeLessThan(16.8 * Math.SQRT2);
  });
});
