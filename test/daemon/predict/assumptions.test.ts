import { describe, expect, it } from 'vitest';
import { predict } from '../../../daemon/predict/predict.js';
import { cabin, type Change } from '../design/signal-cabin.js';

function assumed(...changes: readonly Change[]): Record<string, number | string> {
  const list = predict(cabin(...changes), { load: 'typical' }).assumed;
  return Object.fromEntries(list.map(({ key, value }) => [key, value]));
}

describe('what the predictions assume', () => {
  it('every default that the file left out, and none that it wrote', () => {
    const written = assumed();
    expect(written).not.toHaveProperty('mains.tolerance');
    expect(written).toHaveProperty(['rails.logic.resistor_tolerance_percent'], 1);
    const left = assumed(
      ['  tolerance: EN 50160', '  # '],
      ['  tolerance_percent: 20\n', ''],
      ['  diode: 1N4007\n', ''],
    );
    expect(left).toMatchObject({
      'mains.tolerance': 'EN 50160',
      'reservoir.tolerance_percent': 20,
      'rectifier.diode': '1N4007',
    });
  });

  it('a group of defaults in words', () => {
    const text = '  ambient: # air around the box, degrees C\n    typical: 22\n    highest: 35\n';
    expect(assumed([text, ''])).toMatchObject({ 'mains.ambient': 'typical 22, highest 35' });
  });

  it('regulation by rating, ESR, and what it cannot check', () => {
    const left = assumed(
      ['  regulation_percent: 12', '  #'],
      ['  working_volts: 35\n', ''],
      ['    damage: # volts that harm the load\n      high: 14\n', ''],
    );
    expect(left).toMatchObject({
      'transformer.regulation_percent': 13,
      'reservoir.working_volts': 'not checked',
      'rails.lamps.damage': 'not checked',
    });
    expect(left['reservoir.esr']).toBeCloseTo(0.0508, 4);
  });

  it('the tolerances that no file states', () => {
    expect(assumed()).toMatchObject({
      'transformer.volts': '±3 %',
      'rails.lamps.load': '±10 %',
      'rails.lamps.cooling.heatsink': '-20 to +25 %',
    });
  });
});
