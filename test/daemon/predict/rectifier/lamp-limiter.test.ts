import { describe, expect, it } from 'vitest';
import { filamentResistance, solveLampLimited } from '../../../../daemon/predict/rectifier/lamp-limiter.js';
import { solveRectifier } from '../../../../daemon/predict/rectifier/steady-state.js';
import { idealDiode, lampRail } from './circuits.js';

const lamp = { ratedWatts: 60, ratedVolts: 230 };

describe('filament', () => {
  it('is V²/P hot and a tenth to a fifteenth of it cold (common practice, from memory)', () => {
    expect(filamentResistance(lamp, 60)).toBeCloseTo((230 * 230) / 60, 9);
    const ratio = filamentResistance(lamp, 60) / filamentResistance(lamp, 0);
    expect(ratio).toBeGreaterThan(10);
    expect(ratio).toBeLessThan(15);
  });

  it('draws about volts^0.55 near its rating (lamp makers’ rule, from memory)', () => {
    const volts = (watts: number): number => Math.sqrt(watts * filamentResistance(lamp, watts));
    const amps = (watts: number): number => Math.sqrt(watts / filamentResistance(lamp, watts));
    const exponent = Math.log(amps(63) / amps(57)) / Math.log(volts(63) / volts(57));
    expect(exponent).toBeCloseTo(0.55, 1);
  });
});

describe('lamp in series with the primary', () => {
  it('settles where its resistance and its power agree', () => {
    const solved = solveLampLimited(lampRail, lamp, 230);
    expect(filamentResistance(lamp, solved.lampWatts) / solved.lampResistance).toBeCloseTo(1, 4);
    expect(solved.lampVolts ** 2 / solved.lampResistance).toBeCloseTo(solved.lampWatts, 6);
  });

  it('stays nearly dark and nearly out of the way at a load far below its rating', () => {
    const light = { ...lampRail, loadCurrent: 0.05 };
    const solved = solveLampLimited(light, lamp, 230);
    expect(solved.lampWatts).toBeLessThan(0.02 * 60);
    expect(solved.steady.meanVolts / solveRectifier(light).meanVolts).toBeGreaterThan(0.9);
  });

  it('takes most of the mains when the rectifier is short-circuited', () => {
    // Nothing else is left to take volts: stiff winding, ideal diodes.
    const stiff = {
      ...lampRail,
      seriesResistance: 0.01,
      diode: idealDiode,
      loadCurrent: 0,
      loadResistance: 0.001,
    };
    const solved = solveLampLimited(stiff, lamp, 230);
    expect(solved.lampVolts / 230).toBeCloseTo(1, 2);
    expect(solved.lampWatts / 60).toBeCloseTo(1, 2);
  });

  it('tames the inrush, more so once the filament is hot', () => {
    const solved = solveLampLimited(lampRail, lamp, 230);
    expect(solved.switchOnHot.inrushPeakCurrent).toBeLessThan(solved.switchOnCold.inrushPeakCurrent);
  });
});
