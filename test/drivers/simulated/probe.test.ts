import { describe, expect, it } from 'vitest';
import { probeValue } from '../../../drivers/simulated/probe.js';
import { simulateSupply } from '../../../drivers/simulated/supply.js';
import { CABIN } from './cabin.js';

describe('what a probe sees', () => {
  const supply = simulateSupply(CABIN);
  supply.advanceTo(2000);

  it('on AC, the RMS of the ripple at the same place', () => {
    const rms = probeValue(supply, { measures: 'ac-volts', at: 'reservoir.volts' }) ?? NaN;
    expect(probeValue(supply, { measures: 'ac-volts', at: 'reservoir.ripple' })).toBe(rms);
    // Between a sine's p-p / 2.83 and a sawtooth's p-p / 3.46 (textbook formula).
    expect(supply.read('reservoir.ripple') / rms).toBeGreaterThan(2.83);
    expect(supply.read('reservoir.ripple') / rms).toBeLessThan(3.6);
  });

  it.each([
    ['dc-volts', 'logic.ripple', 'logic.volts'],
    ['temperature', 'logic.case', 'logic.case'],
    ['temperature', 'logic.volts', 'logic.case'],
    ['temperature', 'ambient.air', 'ambient.air'],
    ['ac-amps', 'transformer.amps', 'transformer.amps'],
    ['frequency', 'reservoir.ripple', 'reservoir.hertz'],
  ] as const)('%s at %s is %s', (measures, at, point) => {
    expect(probeValue(supply, { measures, at })).toBe(supply.read(point));
  });

  it('in the air, no volts and the temperature of the room', () => {
    expect(probeValue(supply, { measures: 'dc-volts', at: undefined })).toBe(0);
    expect(probeValue(supply, { measures: 'temperature', at: undefined })).toBeCloseTo(22, 6);
  });

  it('nothing where ohms are asked of a live circuit', () => {
    expect(probeValue(supply, { measures: 'ohms', at: 'logic.volts' })).toBeNull();
  });
});
