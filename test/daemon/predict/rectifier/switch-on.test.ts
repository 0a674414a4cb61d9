import { describe, expect, it } from 'vitest';
import { solveSwitchOn } from '../../../../daemon/predict/rectifier/switch-on.js';
import { idealDiode, lampRail } from './circuits.js';

describe('switch-on', () => {
  it('at the crest nothing but resistance limits the first current (Ohm)', () => {
    const fixed = { law: 'fixed-drop', forwardDrop: 0.8, slopeResistance: 0.03 } as const;
    const solved = solveSwitchOn({ ...lampRail, diode: fixed, capacitorResistance: 0 });
    const total = lampRail.seriesResistance + 2 * 0.03;
    expect(solved.inrushPeakCurrent).toBeCloseTo((lampRail.emfPeak - 1.6) / total, 9);
  });

  it('junctions: the same with their logarithm', () => {
    const solved = solveSwitchOn({ ...lampRail, capacitorResistance: 0 });
    const i = solved.inrushPeakCurrent;
    const volts = i * (lampRail.seriesResistance + 2 * 0.04) + 2 * 1.8 * 0.025852 * Math.log1p(i / 7e-9);
    expect(volts).toBeCloseTo(lampRail.emfPeak, 4);
  });

  it('a reservoir that charges within the first quarter cycle does so as e^-t/RC near the crest', () => {
    // 50 us from the crest the emf has lost 0.01 %; textbook RC charging of 10 ohm and 1 uF.
    const quick = { ...lampRail, diode: idealDiode, seriesResistance: 10, capacitance: 1e-6, loadCurrent: 0 };
    const solved = solveSwitchOn({ ...quick, capacitorResistance: 0, loadResistance: 1e6 });
    expect(solved.secondsTo90Percent / (1e-5 * Math.log(10))).toBeCloseTo(1, 1);
  });

  it('takes longer for more capacitance and more resistance, and longer to 99 % than to 90 %', () => {
    const base = solveSwitchOn(lampRail);
    const larger = solveSwitchOn({ ...lampRail, capacitance: 47e-3 });
    const weaker = solveSwitchOn({ ...lampRail, seriesResistance: 5 });
    expect(base.secondsTo99Percent).toBeGreaterThan(base.secondsTo90Percent);
    expect(larger.secondsTo90Percent).toBeGreaterThan(base.secondsTo90Percent);
    expect(weaker.secondsTo99Percent).toBeGreaterThan(base.secondsTo99Percent);
    expect(weaker.inrushPeakCurrent).toBeLessThan(base.inrushPeakCurrent);
  });

  it('charges without a load and half-wave too', () => {
    for (const circuit of [
      { ...lampRail, loadCurrent: 0 },
      { ...lampRail, kind: 'half-wave' as const, loadCurrent: 0.2 },
    ]) {
      const solved = solveSwitchOn(circuit);
      expect(solved.secondsTo90Percent).toBeGreaterThan(0);
      expect(solved.secondsTo90Percent).toBeLessThan(1);
    }
  });
});
