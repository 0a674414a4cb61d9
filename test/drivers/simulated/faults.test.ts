import { describe, expect, it } from 'vitest';
import { SIMULATED_FAULTS, faultNamed } from '../../../drivers/simulated/faults.js';
import { FAILS_SHORT_AT } from '../../../drivers/simulated/regulator-heat.js';
import { simulateSupply } from '../../../drivers/simulated/supply.js';
import { CABIN } from './cabin.js';

const MINUTE_MS = 60_000;

describe('the list', () => {
  it('has each name once, in small letters, with a title for a person', () => {
    const names = SIMULATED_FAULTS.map(({ name }) => name);
    expect(names).toEqual(['none', 'heatsink-missing', 'diode-open', 'regulator-passes-input']);
    for (const { title } of SIMULATED_FAULTS) expect(title).toMatch(/^[A-Z].{10,}/);
  });

  it('says which faults there are when asked for another', () => {
    expect(() => faultNamed('smoke')).toThrow(
      'fault: found "smoke"; allowed are none, heatsink-missing, diode-open, regulator-passes-input',
    );
  });

  it('says which rails there are when asked for another', () => {
    const supply = simulateSupply(CABIN);
    expect(() => supply.switchFault('heatsink-missing', 'bell')).toThrow(
      'rail: found "bell"; this supply has lamps, logic',
    );
  });
});

describe('diode-open', () => {
  it('halves the ripple frequency and about doubles the ripple', () => {
    const healthy = simulateSupply(CABIN, { mainsWander_percent: 0 });
    const faulty = simulateSupply(CABIN, { mainsWander_percent: 0, fault: 'diode-open' });
    healthy.advanceTo(2000);
    faulty.advanceTo(2000);
    expect(healthy.read('reservoir.hertz')).toBe(100);
    expect(faulty.read('reservoir.hertz')).toBe(50);
    const ratio = faulty.read('reservoir.ripple') / healthy.read('reservoir.ripple');
    expect(ratio).toBeGreaterThan(1.9);
    expect(ratio).toBeLessThan(2.6);
    expect(faulty.read('reservoir.volts')).toBeLessThan(healthy.read('reservoir.volts') - 1);
  });
});

describe('heatsink-missing', () => {
  it('strikes the rail with most to dissipate, which leaves its heatsinked band within two minutes', () => {
    const supply = simulateSupply(CABIN, { fault: 'heatsink-missing' });
    supply.advanceTo(2 * MINUTE_MS);
    expect(supply.read('logic.case')).toBeGreaterThan(100);
    expect(supply.read('lamps.case')).toBeLessThan(40);
  });

  it('strikes the rail that is named', () => {
    const supply = simulateSupply(CABIN, { fault: 'heatsink-missing', faultRail: 'lamps' });
    supply.advanceTo(2 * MINUTE_MS);
    expect(supply.read('lamps.case')).toBeGreaterThan(100);
    expect(supply.read('logic.case')).toBeLessThan(40);
  });

  it('ends in a regulator that fails short and shows raw volts to its load', () => {
    const supply = simulateSupply(CABIN, { fault: 'heatsink-missing', load: 'full' });
    let hottest = 0;
    for (let atMs = 0; supply.failedShort.length === 0 && atMs < 5 * MINUTE_MS; atMs += 1000) {
      supply.advanceTo(atMs);
      hottest = Math.max(hottest, supply.read('logic.junction'));
    }
    expect(supply.failedShort).toEqual(['logic']);
    expect(hottest).toBeGreaterThan(FAILS_SHORT_AT);
    supply.advanceTo(6 * MINUTE_MS);
    expect(supply.read('logic.volts')).toBeGreaterThan(15);
  });
});

describe('regulator-passes-input', () => {
  it('puts the raw volts and their ripple on the rail with the lowest volts', () => {
    const supply = simulateSupply(CABIN, { fault: 'regulator-passes-input' });
    supply.advanceTo(2000);
    expect(supply.read('logic.volts')).toBeGreaterThan(supply.read('reservoir.volts') - 0.2);
    expect(supply.read('logic.ripple')).toBeGreaterThan(0.9 * supply.read('reservoir.ripple'));
    expect(supply.read('lamps.volts')).toBeCloseTo(12.03, 1);
  });
});

describe('switching', () => {
  it('takes hold while it runs, and none mends everything', () => {
    const supply = simulateSupply(CABIN);
    supply.advanceTo(1000);
    supply.switchFault('regulator-passes-input', 'logic');
    supply.advanceTo(2000);
    expect(supply.read('logic.volts')).toBeGreaterThan(15);
    supply.switchFault('none');
    supply.advanceTo(3000);
    expect(supply.read('logic.volts')).toBeCloseTo(5, 1);
  });

  it('none replaces a regulator that has failed from heat', () => {
    const supply = simulateSupply(CABIN, { fault: 'heatsink-missing', load: 'full' });
    supply.advanceTo(5 * MINUTE_MS);
    expect(supply.failedShort).toEqual(['logic']);
    supply.switchFault('none');
    supply.advanceTo(6 * MINUTE_MS);
    expect(supply.failedShort).toEqual([]);
    expect(supply.read('logic.volts')).toBeCloseTo(5, 1);
  });
});
