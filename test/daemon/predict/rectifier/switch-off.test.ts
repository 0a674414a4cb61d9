import { describe, expect, it } from 'vitest';
import { secondsToSafe } from '../../../../daemon/predict/rectifier/switch-off.js';

const charged = {
  capacitance: 4.7e-3,
  fromVolts: 24,
  safeVolts: 5,
  loadCurrent: 0,
  loadResistance: Infinity,
  bleedResistance: Infinity,
};

describe('switch-off', () => {
  it('a bleed resistor alone: R·C·ln(v0/v1) (textbook)', () => {
    const seconds = secondsToSafe({ ...charged, bleedResistance: 2200 });
    expect(seconds).toBeCloseTo(2200 * 4.7e-3 * Math.log(24 / 5), 9);
  });

  it('a constant current alone: C·(v0 - v1)/I (textbook)', () => {
    expect(secondsToSafe({ ...charged, loadCurrent: 0.5 })).toBeCloseTo((4.7e-3 * 19) / 0.5, 12);
  });

  it('load and bleed resistors act in parallel', () => {
    const both = secondsToSafe({ ...charged, loadResistance: 100, bleedResistance: 100 });
    expect(both).toBeCloseTo(secondsToSafe({ ...charged, bleedResistance: 50 }), 12);
  });

  it('current and resistor together: the quadrature of C·dv/(I + v/R) (trapezoid here)', () => {
    let sum = 0;
    const step = 19 / 20_000;
    for (let j = 0; j < 20_000; j += 1) sum += (step * 4.7e-3) / (0.01 + (5 + (j + 0.5) * step) / 1000);
    expect(secondsToSafe({ ...charged, loadCurrent: 0.01, bleedResistance: 1000 })).toBeCloseTo(sum, 6);
  });

  it('never, when nothing discharges it; at once, when it is safe already', () => {
    expect(secondsToSafe(charged)).toBe(Infinity);
    expect(secondsToSafe({ ...charged, fromVolts: 4 })).toBe(0);
    expect(secondsToSafe({ ...charged, bleedResistance: 2200, safeVolts: 0 })).toBe(Infinity);
  });
});
