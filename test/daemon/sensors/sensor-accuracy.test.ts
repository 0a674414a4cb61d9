import { describe, expect, it } from 'vitest';
import { sensorAccuracy } from '../../../daemon/sensors/sensor-accuracy.js';
import { halfWidth, resolutionAt } from '../../../daemon/watch/compare.js';
import { conversion } from '../../../drivers/sensors/conversion.js';

describe('the accuracy through a sensor', () => {
  // At 100 degrees C 138.51 ohm and 0.38 ohm/K (IEC 60751, printed table): 0.1 % and two counts of 0.01 ohm are
  // 0.1585 ohm, 0.42 K. Steps of 10 K take the largest, which is no more than 3 % above it.
  it('of a Pt100 is that of the ohms over ohms a kelvin', () => {
    const accuracy = sensorAccuracy(
      { percent: 0.1, counts: 2, resolution: 0.01 },
      'ohms',
      conversion({ pt100: '4-wire' }),
    );
    expect(halfWidth(100, accuracy)).toBeGreaterThan(0.415);
    expect(halfWidth(100, accuracy)).toBeLessThan(0.43);
    // 0.01 ohm is 0.026 K.
    expect(resolutionAt(100, accuracy)).toBeCloseTo(0.0264, 3);
  });

  // 41 uV a kelvin about 100 degrees C (type K, IEC 60584-1): 100 uV are 2.4 K.
  it('of a thermocouple is that of the volts over volts a kelvin', () => {
    const accuracy = sensorAccuracy(
      { percent: 0, counts: 1, resolution: 1e-4 },
      'dc-volts',
      conversion({ thermocouple: 'K', cold_junction: 25 }),
    );
    expect(halfWidth(100, accuracy)).toBeGreaterThan(2.35);
    expect(halfWidth(100, accuracy)).toBeLessThan(2.55);
  });

  // An NTC of beta 3977 K loses beta / T^2 = 4.47 % a kelvin at 25 degrees C and 3.1 % at 85 (textbook): 1 % is 0.22 K
  // and 0.32 K.
  it('of an NTC grows with the temperature', () => {
    const accuracy = sensorAccuracy(
      { percent: 1, counts: 0 },
      'ohms',
      conversion({ ntc: { beta: 3977, r25: 10_000 } }),
    );
    expect(halfWidth(25, accuracy)).toBeGreaterThan(0.223);
    expect(halfWidth(25, accuracy)).toBeLessThan(0.245);
    expect(halfWidth(85, accuracy)).toBeGreaterThan(0.32);
    expect(halfWidth(85, accuracy)).toBeLessThan(0.35);
  });

  it('of a divider keeps its percent, and its counts and ranges grow with the ratio', () => {
    const accuracy = sensorAccuracy(
      {
        percent: 0.5,
        counts: 2,
        resolution: 0.01,
        ranges: [{ up_to: 2, percent: 0.5, counts: 2, resolution: 0.001 }],
      },
      'dc-volts',
      conversion({ divider: 11 }),
    );
    // 0.5 % of 16.5 V and two counts of 11 mV, by hand.
    expect(halfWidth(16.5, accuracy)).toBeCloseTo(0.0825 + 0.022, 10);
    expect(halfWidth(33, accuracy)).toBeCloseTo(0.165 + 0.22, 10);
  });
});
