import { describe, expect, it } from 'vitest';
import { spokenNumber, spokenReading, withUnitsInWords } from '../../web/spoken.js';
import { POINTS } from './signal-cabin.js';

const point = (id: string) => POINTS.find((one) => one.id === id)!;

describe('what is said', () => {
  it.each([
    ['kept at 20.93 V, wanted 4.75 to 5.25 V.', 'kept at 20.93 volts, wanted 4.75 to 5.25 volts.'],
    ['ripple 1.9\u00a0mV pp', 'ripple 1.9 millivolts peak to peak'],
    ['wait 90 s: under 1 V you may touch it', 'wait 90 seconds: under 1 volt you may touch it'],
    ['2.2 kΩ, 0.25 W, 30 VA, 9 K/W', '2.2 kiloohms, 0.25 watts, 30 VA, 9 K/W'],
    ['315 mA in 4 min at 2 A', '315 milliamps in 4 minutes at 2 amps'],
  ])('%s as %s', (written, said) => expect(withUnitsInWords(written)).toBe(said));

  it('is short: the point, the number, the verdict', () => {
    const rail = { ...point('logic.volts'), label: 'logic rail' };
    expect(spokenReading(rail, 5.02, 'inside')).toBe('logic rail, five point oh two, inside');
    expect(spokenReading(point('logic.case'), 108.6, 'outside')).toBe(
      'logic regulator case, 108 point six degrees, outside',
    );
  });

  it('names thousandths, and leaves out what stands behind the comma of a label', () => {
    const ripple = { ...point('lamps.ripple'), label: 'lamps ripple, peak to peak' };
    expect(spokenReading(ripple, 0.0019, 'inside')).toBe('lamps ripple, one point nine oh milli, inside');
  });

  it.each([
    ['5.02', 'five point oh two'],
    ['12', '12'],
    ['0.5', 'zero point five'],
    ['\u221214.97', 'minus 14 point nine seven'],
  ])('%s as %s', (written, said) => expect(spokenNumber(written)).toBe(said));
});
