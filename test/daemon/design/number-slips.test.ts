import { describe, expect, it } from 'vitest';
import { numberMeant, unitSlip } from '../../../daemon/design/number-slips.js';

describe('numberMeant', () => {
  // IEC 60062 writes the multiplier's letter in the place of the decimal point.
  it.each([
    ['4k7', 'r2', 4700],
    ['2R2', 'r2', 2.2],
    ['1M5', 'bleed', 1_500_000],
    ['240 ohm', 'r1', 240],
    ['0,5', 'full', 0.5],
    ['300 mA', 'full', 0.3],
    ['4700 µF', 'capacity_uF', 4700],
    ['4.7 mF', 'capacity_uF', 4700],
    ['10%', 'tolerance_percent', 10],
    ['-10', 'low_percent', -10],
  ])('%s under %s is %d', (written, key, number) => {
    expect(numberMeant(written, key)).toBe(number);
  });

  it.each(['lots', '', '1.2.3', '4 k 7 x y', 'k'])('makes nothing of "%s"', (written) => {
    expect(numberMeant(written, 'r2')).toBeNull();
  });
});

describe('unitSlip', () => {
  it('says what is allowed and what was probably meant', () => {
    expect(unitSlip('rails.logic.load.full', 280)).toEqual({ allowed: '0 to 20 amps', meant: 0.28 });
    expect(unitSlip('mains.volts', 0.23)).toEqual({ allowed: '80 to 280 volts RMS', meant: 230 });
    expect(unitSlip('mains.volts', 3e9)).toEqual({ allowed: '80 to 280 volts RMS', meant: null });
  });

  it('leaves ordinary numbers and other keys alone', () => {
    expect(unitSlip('reservoir.capacity_uF', 4700)).toBeNull();
    expect(unitSlip('mains.hertz', 1e9)).toBeNull();
  });
});
