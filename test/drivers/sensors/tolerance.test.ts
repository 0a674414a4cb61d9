import { describe, expect, it } from 'vitest';
import { sensorTolerance } from '../../../drivers/sensors/tolerance.js';

const K = { thermocouple: 'K', cold_junction: 25 };
const T = { thermocouple: 'T', cold_junction: 25 };

describe('sensorTolerance', () => {
  // IEC 60584-1:2013, tolerance classes (from memory): the share of the temperature takes over at 375 and 333 degrees C
  // for K and J, at 125 and 133 for T.
  it.each([
    [{ ...K, class: 1 }, 0, 1.5],
    [{ ...K, class: 1 }, 375, 1.5],
    [{ ...K, class: 1 }, 1000, 4],
    [{ ...K, class: '2' }, -40, 2.5],
    [{ ...K, class: 2 }, 1200, 9],
    [{ thermocouple: 'J', cold_junction: 25, class: 2 }, 750, 5.625],
    [{ ...T, class: 1 }, 100, 0.5],
    [{ ...T, class: 1 }, 350, 1.4],
    [{ ...T, class: 2 }, 133, 1],
    // IEC 60751, printed tolerance table.
    [{ pt100: '2-wire', class: 'A' }, 0, 0.15],
    [{ pt100: '2-wire', class: 'A' }, 200, 0.55],
    [{ pt1000: '2-wire', class: 'B' }, 0, 0.3],
    [{ pt1000: '2-wire', class: 'B' }, 200, 1.3],
    [{ pt1000: '2-wire', class: 'B' }, -100, 0.8],
  ])('of %j at %d degrees C is %d K', (sensor, temperature, kelvin) => {
    expect(sensorTolerance(sensor)?.at(temperature)).toBeCloseTo(kelvin, 1);
  });

  it('takes the usual class where none is said, and says so', () => {
    expect(sensorTolerance(K)).toMatchObject({ class: '2', isAssumed: true });
    expect(sensorTolerance({ pt100: '3-wire' })).toMatchObject({ class: 'B', isAssumed: true });
    expect(sensorTolerance({ pt100: '3-wire', class: 'B' })).toMatchObject({ class: 'B', isAssumed: false });
    const ntc = { beta: 3977, r25: 10_000, r25_percent: 1 };
    expect(sensorTolerance({ ntc })).toMatchObject({ r25Percent: 1, betaPercent: 1, isAssumed: true });
    expect(sensorTolerance({ ntc: { a: 1e-3, b: 2e-4, c: 1e-7, r25_percent: 0 } })).toMatchObject({
      betaPercent: 0,
      isAssumed: false,
    });
  });

  it('has none for what measures no temperature', () => {
    expect(sensorTolerance({ divider: 11 })).toBeNull();
  });
});
