import { describe, expect, it } from 'vitest';
import {
  DIODES,
  diodeNamed,
  diodeVolts,
  lawDropping,
  lawThrough,
} from '../../../../daemon/design/parts/diodes.js';

describe('the rectifier diodes', () => {
  it('1N4007 drops what is published', () => {
    const { law } = diodeNamed('1N4007');
    // Kuphaldt, Lessons in Electric Circuits, 1 A diode model: 0.925 V at 1 A, 1.4 V at 12 A.
    expect(diodeVolts(law, 1)).toBeCloseTo(0.925, 3);
    expect(diodeVolts(law, 12)).toBeCloseTo(1.4, 3);
    // ON Semiconductor 1N4001-1N4007 Rev 7: typ 0.93 V, max 1.1 V at 1 A.
    expect(Math.abs(diodeVolts(law, 1) - 0.93)).toBeLessThan(0.01);
  });

  // Guaranteed at most: GBU4 1.0 V at 2 A (MOSPEC), GBU8 1.0 V at 8 A (EIC), 1N5404 1.2 V at 3 A (from memory).
  it.each([
    ['GBU4', 2, 1],
    ['GBU8', 8, 1],
    ['1N5404', 3, 1.2],
    ['KBPC35', 17.5, 1.1],
  ])('%s at %d A stays below its guaranteed %d V', (name, amps, most) => {
    const volts = diodeVolts(diodeNamed(name).law, amps);
    expect(volts).toBeLessThan(most);
    expect(volts).toBeGreaterThan(most - 0.4);
  });

  // ON Semiconductor 1N4001-1N4007 Rev 7: VRRM.
  it('1N4001 to 1N4007 block 50 to 1000 V', () => {
    const reverse = [1, 2, 3, 4, 5, 6, 7].map((digit) => diodeNamed(`1N400${digit}`).repetitiveReverseVolts);
    expect(reverse).toEqual([50, 100, 200, 400, 600, 800, 1000]);
  });

  // Half a volt of silicon, a quarter of a Schottky diode (1N581x and 1N582x): trade facts, from memory.
  it('every law is a diode: nothing at no current, half or a quarter of a volt at a milliamp', () => {
    for (const { name, law } of DIODES.values()) {
      const [low, high] = /^1N58/.test(name) ? [0.1, 0.35] : [0.4, 0.7];
      expect(diodeVolts(law, 1e-3), name).toBeGreaterThan(low);
      expect(diodeVolts(law, 1e-3), name).toBeLessThan(high);
      expect(diodeVolts(law, 0)).toBe(0);
    }
  });

  // Makers guarantee 0.6 V at 1 A of a 1N5819 and 0.525 V at 3 A of a 1N5822 (from memory).
  it.each([
    ['1N5819', 1, 0.6],
    ['1N5822', 3, 0.525],
    ['6A10', 6, 0.95],
  ])('%s at %d A stays below its guaranteed %d V', (name, amps, most) => {
    expect(diodeVolts(diodeNamed(name).law, amps)).toBeLessThan(most);
  });

  it.each([0.1, 0.35, 0.7, 1.2, 2])('a law moved to %d V drops that at 1 A', (volts) => {
    expect(diodeVolts(lawDropping(diodeNamed('1N4007').law, volts), 1)).toBeCloseTo(volts, 9);
  });

  it('refuses points that no diode has', () => {
    const bent = () => lawThrough({ volts: 0.9, amps: 1 }, { volts: 0.91, amps: 12 });
    expect(bent).toThrow(/need -0\.0\d+ ohm; take a smaller n than 1\.9$/);
  });
});
