import { describe, expect, it } from 'vitest';
import {
  caseLimit,
  mostHeatsink,
  mostJunctionAir,
  steadyTemperatures,
} from '../../../daemon/predict/case-temperature.js';

describe('steadyTemperatures', () => {
  // LT1083-5, thermal example: 24 W, 75 C, sink 1, case-sink 0.2, power junction 1.6 K/W: 142 C printed, 142.2 exact.
  it('LT1083 example', () => {
    const { junction } = steadyTemperatures(24, 75, { junctionCase: 1.6, caseSink: 0.2, toAir: 1 });
    expect(junction).toBeCloseTo(142.2, 6);
    expect(Math.floor(junction)).toBe(142);
  });

  // Lecture slides, thermal equivalent circuit: 5 W, 50 C, 3 + 1 + 13.2 K/W (the quoted sink rises 66 K): 136 C.
  it('lecture example with the quoted sink', () => {
    const steady = steadyTemperatures(5, 50, { junctionCase: 3, caseSink: 1, toAir: 66 / 5 });
    expect(steady.junction).toBeCloseTo(136, 6);
    expect(steady.case).toBeCloseTo(121, 6);
  });

  it('no heat, no rise', () => {
    const path = { junctionCase: 5, caseSink: 1, toAir: 8 };
    expect(steadyTemperatures(0, 22, path)).toEqual({ case: 22, junction: 22 });
  });
});

describe('the K/W that are allowed', () => {
  // TI TPS758xx SLVS330D: 2.4 W, 55 C, 125 C: 29 C/W (29.17 exact). TI TPS725xx SLVS341E: 0.8 W: 87.5 C/W.
  it.each([
    [2.4, 55, 125, 29.17],
    [0.8, 55, 125, 87.5],
  ])('%d W in %d C up to %d C: %d K/W from junction to air', (watts, air, limit, most) => {
    expect(mostJunctionAir(watts, air, limit)).toBeCloseTo(most, 2);
  });

  // Lecture slides: TO-220, 5 W, JC 3.0, CS 1, Tj 150, Ta 50: less than 16 C/W.
  it('heatsink of the lecture example', () => {
    expect(mostHeatsink(5, 50, 150, { junctionCase: 3, caseSink: 1 })).toBeCloseTo(16, 12);
  });

  it('is negative when no heatsink suffices', () => {
    expect(mostHeatsink(50, 50, 125, { junctionCase: 5, caseSink: 1 })).toBeLessThan(0);
  });

  it('the case limit is the junction limit less the rise inside', () => {
    // 3 W through 5 K/W are 15 K.
    expect(caseLimit(3, 125, 5)).toBe(110);
  });
});
