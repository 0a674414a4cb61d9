import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { conversion } from '../../../drivers/sensors/conversion.js';

// Expected values are the printed ones of the sensors' own tests, taken through what a bench file would say.
describe('conversion', () => {
  it.each([
    ['type K, 25 degrees C at the meter', { thermocouple: 'K', cold_junction: 25 }, 0.002474, 85],
    ['type J, ice bath', { thermocouple: 'J', cold_junction: 0 }, 0.005269, 100],
    ['type T, ice bath', { thermocouple: 'T', cold_junction: 0 }, 0.003585, 85],
    ['Pt100 with its leads', { pt100: '2-wire', lead_ohms: 0.4 }, 138.91, 100],
    ['Pt100 on four wires', { pt100: '4-wire' }, 138.51, 100],
    ['Pt1000', { pt1000: '2-wire' }, 1194, 50],
    ['NTC by beta', { ntc: { beta: 3977, r25: 10_000 } }, 1070, 85],
    ['NTC by three terms', { ntc: { a: 1.12924e-3, b: 2.34108e-4, c: 0.87755e-7 } }, 10_000, 25],
    ['shunt', { shunt_ohms: 0.1 }, 0.025, 0.25],
    ['divider of 100 k over 10 k', { divider: 11 }, 1.5, 16.5],
    ['probe', { probe: 10 }, -0.5, -5],
    ['ripple on a plain meter', { average_responding: 'sawtooth' }, 0.96191, 1],
  ])('reads %s', (_, spec, raw, expected) => {
    const { value, mark } = conversion(spec).value(raw);
    expect(mark).toBeNull();
    expect(value).toBeCloseTo(expected, Math.abs(expected) > 20 ? 0 : 4);
  });

  it.each([
    ['an open thermocouple', { thermocouple: 'K', cold_junction: 25 }, 0.3],
    ['a shorted Pt100', { pt100: '2-wire' }, 0.4],
    ['an open Pt100', { pt100: '2-wire' }, 1e6],
    ['a shorted NTC', { ntc: { beta: 3977, r25: 10_000 } }, 0],
    ['an open NTC', { ntc: { beta: 3977, r25: 10_000 } }, 20e6],
    ['an NTC hotter than it can be', { ntc: { beta: 3977, r25: 10_000 } }, 100],
    ['an infinite voltage', { divider: 11 }, Infinity],
  ])('marks %s and gives no number', (_, spec, raw) => {
    expect(conversion(spec).value(raw)).toEqual({ value: null, mark: 'out-of-range' });
  });

  it('reads an NTC that is made for more heat', () => {
    const glass = conversion({ ntc: { beta: 3977, r25: 10_000, highest: 300 } });
    expect(glass.value(100).value).toBeGreaterThan(155);
  });

  it('takes the cold junction from a channel', () => {
    const convert = conversion({ thermocouple: 'K', cold_junction: 'terminal.temperature' });
    expect(convert.coldJunctionChannel).toBe('terminal.temperature');
    expect(convert.value(0.002474, 25).value).toBeCloseTo(85, 0);
    expect(convert.value(0.002474, null)).toEqual({ value: null, mark: 'not-a-number' });
    expect(convert.value(0.002474, -50)).toEqual({ value: null, mark: 'out-of-range' });
  });

  it('knows what it makes of what an instrument measures', () => {
    const from = (spec: unknown, raw: Parameters<ReturnType<typeof conversion>['measures']>[0]) =>
      conversion(spec).measures(raw);
    expect(from({ thermocouple: 'K', cold_junction: 25 }, 'dc-volts')).toBe('temperature');
    expect(from({ thermocouple: 'K', cold_junction: 25 }, 'ohms')).toBeNull();
    expect(from({ pt100: '4-wire' }, 'ohms')).toBe('temperature');
    expect(from({ shunt_ohms: 0.1 }, 'ac-volts')).toBe('ac-amps');
    expect(from({ divider: 11 }, 'dc-volts')).toBe('dc-volts');
    expect(from({ average_responding: 'sawtooth' }, 'dc-volts')).toBeNull();
  });

  it('never gives a number that is none (seed 60)', () => {
    const specs = [
      { thermocouple: 'K', cold_junction: 25 },
      { pt100: '2-wire', lead_ohms: 0.4 },
      { ntc: { beta: 3977, r25: 10_000 } },
      { ntc: { a: 1.1e-3, b: 2.3e-4, c: 0.9e-7 } },
      { shunt_ohms: 1e-6 },
      { divider: 100_000 },
    ];
    fc.assert(
      fc.property(fc.constantFrom(...specs), fc.double(), (spec, raw) => {
        const { value, mark } = conversion(spec).value(raw);
        expect(mark === null ? Number.isFinite(value) : value === null).toBe(true);
      }),
      { seed: 60, numRuns: 2000 },
    );
  });

  it('refuses a sensor that cannot be read, with the cure', () => {
    expect(() => conversion({ thermocouple: 'K' })).toThrow(
      /cold_junction: allowed is a number .* where the wires end/,
    );
    expect(() => conversion(7)).toThrow(RangeError);
  });
});
