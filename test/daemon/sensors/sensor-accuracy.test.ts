import { describe, expect, it } from 'vitest';
import { joinSensor } from '../../../daemon/sensors/joined-sensor.js';
import { sensorAccuracy } from '../../../daemon/sensors/sensor-accuracy.js';
import type { Accuracy } from '../../../daemon/design/bench.js';
import { halfWidth, resolutionAt } from '../../../daemon/watch/compare.js';
import type { Measurand } from '../../../drivers/driver.js';
import { conversion } from '../../../drivers/sensors/conversion.js';

/** The instrument's accuracy alone, as through a sensor without a tolerance. */
const through = (accuracy: Accuracy, raw: Measurand, sensor: unknown): Accuracy | undefined =>
  sensorAccuracy(accuracy, raw, { convert: conversion(sensor), tolerance: null });

/** Half width at a temperature with the sensor's own tolerance. */
function withOwn(
  at: number,
  measures: 'ohms' | 'dc-volts',
  sensor: Record<string, unknown>,
  accuracy?: Accuracy,
) {
  const joined = joinSensor({ measures, sensor });
  if (joined === null) throw new Error('no such sensor');
  return halfWidth(at, sensorAccuracy(accuracy, measures, joined));
}

describe('the accuracy through a sensor', () => {
  // At 100 degrees C 138.51 ohm and 0.38 ohm/K (IEC 60751, printed table): 0.1 % and two counts of 0.01 ohm are
  // 0.1585 ohm, 0.42 K. Steps of 10 K take the largest, which is no more than 3 % above it.
  it('of a Pt100 is that of the ohms over ohms a kelvin', () => {
    const accuracy = through({ percent: 0.1, counts: 2, resolution: 0.01 }, 'ohms', { pt100: '4-wire' });
    expect(halfWidth(100, accuracy)).toBeGreaterThan(0.415);
    expect(halfWidth(100, accuracy)).toBeLessThan(0.43);
    // 0.01 ohm is 0.026 K.
    expect(resolutionAt(100, accuracy)).toBeCloseTo(0.0264, 3);
  });

  // 41 uV a kelvin about 100 degrees C (type K, IEC 60584-1): 100 uV are 2.4 K.
  it('of a thermocouple is that of the volts over volts a kelvin', () => {
    const accuracy = through({ percent: 0, counts: 1, resolution: 1e-4 }, 'dc-volts', {
      thermocouple: 'K',
      cold_junction: 25,
    });
    expect(halfWidth(100, accuracy)).toBeGreaterThan(2.35);
    expect(halfWidth(100, accuracy)).toBeLessThan(2.55);
  });

  // An NTC of beta 3977 K loses beta / T^2 = 4.47 % a kelvin at 25 degrees C and 3.1 % at 85 (textbook): 1 % is 0.22 K
  // and 0.32 K.
  it('of an NTC grows with the temperature', () => {
    const accuracy = through({ percent: 1, counts: 0 }, 'ohms', { ntc: { beta: 3977, r25: 10_000 } });
    expect(halfWidth(25, accuracy)).toBeGreaterThan(0.223);
    expect(halfWidth(25, accuracy)).toBeLessThan(0.245);
    expect(halfWidth(85, accuracy)).toBeGreaterThan(0.32);
    expect(halfWidth(85, accuracy)).toBeLessThan(0.35);
  });

  it('of a divider keeps its percent, and its counts and ranges grow with the ratio', () => {
    const accuracy = through(
      {
        percent: 0.5,
        counts: 2,
        resolution: 0.01,
        ranges: [{ up_to: 2, percent: 0.5, counts: 2, resolution: 0.001 }],
      },
      'dc-volts',
      { divider: 11 },
    );
    // 0.5 % of 16.5 V and two counts of 11 mV, by hand.
    expect(halfWidth(16.5, accuracy)).toBeCloseTo(0.0825 + 0.022, 10);
    expect(halfWidth(33, accuracy)).toBeCloseTo(0.165 + 0.22, 10);
  });

  // IEC 60584-1, class 2 of type K: 2.5 K up to 333 degrees C, 0.75 % above; class 1: 1.5 K up to 375. Type T, class 2:
  // 1 K up to 133. IEC 60751, class B at 100 degrees C: 0.8 K, class A: 0.35 K (printed tolerance tables).
  it.each([
    [100, 'dc-volts', { thermocouple: 'K', cold_junction: 25 }, 2.5],
    [100, 'dc-volts', { thermocouple: 'K', cold_junction: 25, class: 1 }, 1.5],
    [400, 'dc-volts', { thermocouple: 'J', cold_junction: 25, class: 2 }, 3],
    [100, 'dc-volts', { thermocouple: 'T', cold_junction: 25 }, 1],
    [100, 'ohms', { pt100: '2-wire' }, 0.8],
    [200, 'ohms', { pt1000: '4-wire', class: 'B' }, 1.3],
    [100, 'ohms', { pt100: '4-wire', class: 'A' }, 0.35],
  ] as const)(
    'at %d degrees C in %s of %j is its class alone where the meter is unstated',
    (at, raw, sensor, kelvin) => {
      expect(withOwn(at, raw, sensor)).toBeCloseTo(kelvin, 9);
    },
  );

  // 1 % of 10 kohm at beta 3977 K is 0.22 K at 25 degrees C; at 85 degrees C 1 % is 0.32 K, and 1 % of beta
  // 358^2 K^2 x 5.62e-4 /K x 0.01 = 0.72 K more (by hand).
  it('of an NTC alone is that of its ohms and its beta', () => {
    const ntc = { ntc: { beta: 3977, r25: 10_000, r25_percent: 1, beta_percent: 1 } };
    expect(withOwn(25, 'ohms', ntc)).toBeGreaterThan(0.22);
    expect(withOwn(25, 'ohms', ntc)).toBeLessThan(0.33);
    expect(withOwn(85, 'ohms', ntc)).toBeGreaterThan(1.04);
    expect(withOwn(85, 'ohms', ntc)).toBeLessThan(1.2);
  });

  it('joins the meter and the sensor by the sum of their squares (JCGM 100:2008, 5.1.2)', () => {
    const meter = { percent: 0.1, counts: 2, resolution: 0.01 };
    const alone = halfWidth(100, through(meter, 'ohms', { pt100: '4-wire' }));
    const both = withOwn(100, 'ohms', { pt100: '4-wire' }, meter);
    expect(both).toBeCloseTo(Math.hypot(alone, 0.8), 9);
  });

  it('never takes a sensor’s tolerance for what one count of the meter is', () => {
    const sensor = joinSensor({ measures: 'ohms', sensor: { pt100: '4-wire' } });
    const accuracy =
      sensor === null ? undefined : sensorAccuracy({ percent: 0.1, counts: 0 }, 'ohms', sensor);
    expect(resolutionAt(100, accuracy)).toBeLessThan(1e-5);
  });
});
