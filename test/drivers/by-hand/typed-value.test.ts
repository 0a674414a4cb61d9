import { describe, expect, it } from 'vitest';
import { readTyped } from '../../../drivers/by-hand/typed-value.js';

describe('readTyped', () => {
  it.each([
    ['12.03', 12.03],
    ['12,03', 12.03],
    [' -0.5 ', -0.5],
    ['45m', 0.045],
    ['45 mV', 0.045],
    ['45,2mV', 0.0452],
    ['3u', 3e-6],
    ['1.2k', 1200],
    ['12 V', 12],
    ['1.2e1', 12],
  ])('reads %s as volts', (typed, volts) => {
    const found = readTyped(typed, 'dc-volts');
    expect(found).toMatchObject({ mark: null, why: null });
    expect('value' in found ? found.value : NaN).toBeCloseTo(volts, 12);
  });

  it.each([
    ['OL', 'overload'],
    ['ol', 'overload'],
    ['O.L', 'overload'],
    ['----', 'overload'],
    ['nan', 'not-a-number'],
  ])('marks %s', (typed, mark) => {
    expect(readTyped(typed, 'ohms')).toEqual({ value: NaN, mark, why: null });
  });

  it.each(['', '12.03.4', '1.234,5', '1,234.5', '12 A', '12 volts', 'five', '0x10', '1e400', '9'.repeat(80)])(
    'does not guess at %s',
    (typed) => {
      expect(readTyped(typed, 'dc-volts').why).toMatch(/is no reading in V; type a number such as/);
    },
  );

  it('knows no millidegrees', () => {
    expect(readTyped('45m', 'temperature').why).toMatch(/41.5 or OL/);
    expect(readTyped('45 C', 'temperature')).toMatchObject({ value: 45 });
  });
});
