import { describe, expect, it } from 'vitest';
import { PACKAGES } from '../../../../daemon/design/parts/packages.js';
import { adjustedVolts, REGULATORS, regulatorNamed } from '../../../../daemon/design/parts/regulators.js';

describe('adjustedVolts', () => {
  // VO = Vref (1 + R2/R1) + Iadj R2: TI LM317 SLVS044Z; by hand with its typ 1.25 V and 50 uA.
  it.each([
    [240, 720, 5.036],
    [240, 2050, 12.0296],
    [240, 0, 1.25],
    [120, 360, 5.018],
  ])('R1 %d and R2 %d give %d V', (r1, r2, volts) => {
    expect(adjustedVolts(1.25, r1, r2, 50e-6)).toBeCloseTo(volts, 4);
  });
});

describe('the regulators', () => {
  it('every figure is in order, low to high', () => {
    for (const {
      name,
      volts,
      dropout,
      quiescentAmps,
      rippleRejection_dB,
      minimumLoad,
    } of REGULATORS.values()) {
      for (const { low, typical, high } of [volts, dropout, quiescentAmps, rippleRejection_dB, minimumLoad]) {
        expect([low, typical, high], name).toEqual([low, typical, high].sort((a, b) => a - b));
      }
    }
  });

  it('come in packages that the library has, and state what their input takes', () => {
    for (const part of REGULATORS.values()) {
      expect(
        part.packages.every((name) => PACKAGES.has(name)),
        part.name,
      ).toBe(true);
      expect(part.highestInput ?? part.highestDifference, part.name).toBeGreaterThan(10);
    }
  });

  // ST L78 DS0422 Rev 36 and Fairchild LM78XX Rev 1.3.0, over temperature: within 5 %.
  it.each(['7805', '7808', '7812', '7815', '7824', '7905', '7906', '7908', '7912', '7915', '7924'])(
    '%s lies within 5 %%',
    (name) => {
      const { low, typical, high } = regulatorNamed(name).volts;
      expect(typical).toBe(Number(name.slice(2)));
      expect(low / typical).toBeCloseTo(0.95, 10);
      expect(high / typical).toBeCloseTo(1.05, 10);
    },
  );

  // TI LM317 SLVS044Z: 1.2 / 1.25 / 1.3 V, 50 / 100 uA, 40 V, 1.5 A, 3.5 / 10 mA, 125 and 150 degrees C.
  it('LM317 as its datasheet has it', () => {
    expect(regulatorNamed('LM317')).toMatchObject({
      volts: { low: 1.2, typical: 1.25, high: 1.3 },
      adjustAmps: { typical: 50e-6, high: 100e-6 },
      minimumLoad: { typical: 3.5e-3, high: 10e-3 },
      highestDifference: 40,
      ratedAmps: 1.5,
      junctionOperating: 125,
      junctionAbsolute: 150,
    });
  });

  // TI SLVS044Z: typ 2.2 A up to 15 V, 0.4 A at 40 V; ST DS0422 Rev 36: 2.2 A peak, 0.75 A into a short at 35 V.
  it('limits its current as the datasheets have it', () => {
    expect(regulatorNamed('LM317').currentLimit).toEqual([
      { difference: 15, amps: 2.2 },
      { difference: 40, amps: 0.4 },
    ]);
    expect(regulatorNamed('7805').currentLimit.at(-1)).toEqual({ difference: 35, amps: 0.75 });
  });

  it('every one limits above what it is rated for, less at larger differences', () => {
    for (const { name, currentLimit, ratedAmps } of REGULATORS.values()) {
      expect(currentLimit[0]?.amps, name).toBeGreaterThan(ratedAmps);
      const amps = currentLimit.map((point) => point.amps);
      expect(amps, name).toEqual([...amps].sort((a, b) => b - a));
    }
  });

  // Trade facts: classic parts want 2 V or so, low-drop ones 1.3 V, a saturating transistor half a volt.
  it.each([
    ['LM317', 'darlington', 1.6, 2.4],
    ['LM338', 'darlington', 2, 3],
    ['7905', 'darlington', 1, 2.4],
    ['LM1086', 'low-drop', 1.1, 1.5],
    ['LM2940-5', 'low-drop', 0.3, 0.7],
  ])('%s is of the %s family', (name, family, low, high) => {
    const part = regulatorNamed(name);
    expect(part.family).toBe(family);
    expect(part.dropout.typical).toBeGreaterThan(low);
    expect(part.dropout.typical).toBeLessThan(high);
  });

  it('a name of JavaScript is no part', () => {
    expect(() => regulatorNamed('constructor')).toThrow('regulator "constructor" isn\'t in the part library');
  });
});
