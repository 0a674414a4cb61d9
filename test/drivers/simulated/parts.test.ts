import { describe, expect, it } from 'vitest';
import { rectifierAmps } from '../../../drivers/simulated/circuit.js';
import {
  diodeLaw,
  interfaceResistance,
  packagePart,
  regulatorPart,
} from '../../../drivers/simulated/parts.js';
import { simulateSupply } from '../../../drivers/simulated/supply.js';
import { CABIN } from './cabin.js';

/** One diode alone across this voltage. */
function diodeAmps(part: string, volts: number): number {
  const source = { peakVolts: 0, windingOhms: 0, diodesInPath: 1, halfCycles: 'both', windings: 1 } as const;
  return rectifierAmps({ ...source, diode: diodeLaw(part) }, volts, 0);
}

describe('diodes', () => {
  it('a 1N4007 goes through the published points', () => {
    // Kuphaldt, Lessons in Electric Circuits: 0.925 V at 1 A, 1.4 V at 12 A.
    expect(diodeAmps('1N4007', 0.925)).toBeCloseTo(1, 1);
    expect(diodeAmps('1N4007', 1.4) / 12).toBeCloseTo(1, 1);
  });

  it('larger ones stay below the most that their makers allow', () => {
    // GBU8005G-GBU810G datasheet: at most 0.95 V at 4 A and 1.0 V at 8 A.
    expect(diodeAmps('GBU8', 0.95)).toBeGreaterThan(4);
    expect(diodeAmps('GBU8', 1)).toBeGreaterThan(8);
    // From memory: 3 A rectifiers, at most 1.0 to 1.2 V at 3 A.
    expect(diodeAmps('1N5404', 1)).toBeGreaterThan(3);
  });

  it('block the other way', () => {
    expect(diodeAmps('1N4007', -20)).toBe(0);
  });
});

describe('regulators', () => {
  it.each([
    ['7805', 1, 5],
    ['LM7812', 1, 12],
    ['L7805CV', 1, 5],
    ['7915', -1, 15],
    ['LM317', 1, 1.25],
    ['LM337', -1, 1.25],
    ['LM1117', 1, 1.25],
    ['LM1117-3.3', 1, 3.3],
  ] as const)('%s is known', (part, sign, volts) => {
    expect(regulatorPart(part)).toMatchObject({ sign, volts });
  });

  it('one that is not known is an error that names the key', () => {
    const rails = { logic: { ...CABIN.rails['logic'], regulator: 'XYZ' } };
    const design = { ...CABIN, rails: rails as typeof CABIN.rails };
    expect(() => simulateSupply(design)).toThrow(
      'rails.logic.regulator: found "XYZ"; the simulated bench has LM317, LM337, LM1086, LM1117, the 78xx and the 79xx',
    );
  });

  it('a negative one shows negative volts', () => {
    const rails = { bells: { ...CABIN.rails['logic'], regulator: '7905' } };
    const supply = simulateSupply({ ...CABIN, rails: rails as typeof CABIN.rails });
    supply.advanceTo(2000);
    expect(supply.read('bells.volts')).toBeCloseTo(-5, 1);
  });
});

describe('cooling', () => {
  it('interfaces are those of AN1040/D, table 1', () => {
    expect(interfaceResistance('greased', 'TO-220')).toBe(1);
    expect(interfaceResistance('mica-dry', 'TO-220')).toBe(3.4);
    expect(interfaceResistance('greased', 'TO-3')).toBeLessThan(0.5);
  });

  it('a larger package sheds more heat', () => {
    const convection = (name: string) => packagePart(name).air.convection;
    expect(convection('TO-3')).toBeGreaterThan(convection('TO-220'));
    expect(convection('TO-252')).toBeLessThan(convection('TO-220'));
  });
});
