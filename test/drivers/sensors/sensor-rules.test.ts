import { describe, expect, it } from 'vitest';
import { sensorKind, sensorProblems } from '../../../drivers/sensors/sensor-rules.js';

describe('sensorProblems', () => {
  it.each([
    [{ thermocouple: 'K', cold_junction: 25 }],
    [{ thermocouple: 'T', cold_junction: 'terminal.temperature' }],
    [{ pt100: '2-wire', lead_ohms: 0.4 }],
    [{ pt1000: '4-wire' }],
    [{ thermocouple: 'K', cold_junction: 25, class: 1 }],
    [{ pt100: '4-wire', class: 'AA' }],
    [{ ntc: { beta: 3977, r25: 10_000, r25_percent: 1, beta_percent: 0.75 } }],
    [{ ntc: { beta: 3977, r25: 10_000 } }],
    [{ ntc: { a: 3.35e-3, b: 2.56e-4, c: 1.05e-7, d: 2.5e-6, r25: 10_000, highest: 300 } }],
    [{ shunt_ohms: 0.1 }],
    [{ divider: 11 }],
    [{ average_responding: 'sawtooth' }],
  ])('finds nothing in %j', (spec) => {
    expect(sensorProblems(spec)).toEqual([]);
    expect(sensorKind(spec)).toBeDefined();
  });

  it.each([
    [7, ['sensor']],
    [null, ['sensor']],
    [{}, ['sensor']],
    [{ pt100: '2-wire', divider: 11 }, ['sensor']],
    [{ thermocouple: 'K' }, ['cold_junction']],
    [{ thermocouple: 'X', cold_junction: 300 }, ['thermocouple', 'cold_junction']],
    [{ thermocouple: 'K', cold_junction: 25, lead_ohms: 1 }, ['lead_ohms', 'lead_ohms']],
    [{ pt100: '3-wire', lead_ohms: 1 }, ['lead_ohms']],
    [{ pt100: '2-wire', lead_ohms: -1 }, ['lead_ohms']],
    [{ ntc: 3977 }, ['ntc']],
    [{ ntc: { beta: 3977 } }, ['ntc.r25']],
    [{ ntc: { a: 1e-3, b: 2e-4 } }, ['ntc.c']],
    [{ ntc: { beta: 3977, r25: 10_000, lowest: 90, highest: 80 } }, ['ntc.highest']],
    [{ ntc: { beta: 3977, r25: 10_000, b: 1 } }, ['ntc.b']],
    [{ thermocouple: 'K', cold_junction: 25, class: 'B' }, ['class']],
    [{ pt100: '4-wire', class: 2 }, ['class']],
    [{ ntc: { a: 1e-3, b: 2e-4, c: 1e-7, beta_percent: 1 } }, ['ntc.beta_percent']],
    [{ divider: 11, class: 2 }, ['class']],
    [{ shunt_ohms: 0 }, ['shunt_ohms']],
    [{ divider: NaN }, ['divider']],
    [{ average_responding: 'pulse' }, ['average_responding']],
  ])('finds in %j what is wrong at %j', (spec, keys) => {
    const problems = sensorProblems(spec);
    expect(problems.map(({ key }) => key)).toEqual(keys);
    for (const { allowed } of problems) expect(allowed).not.toBe('');
  });
});
