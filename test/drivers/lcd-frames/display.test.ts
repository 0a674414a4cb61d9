import { describe, expect, it } from 'vitest';
import { readDisplay } from '../../../drivers/lcd-frames/display.js';
import { FOURTEEN_BYTE } from '../../../drivers/lcd-frames/frames/fourteen-byte.js';
import { meterFrame, type MeterSymbol } from './meter-frames.js';

function shown(characters: string, symbols: readonly MeterSymbol[], celsius?: number) {
  const lowHalves = meterFrame(characters, ...symbols).map((byte) => byte & 0xf);
  return readDisplay(lowHalves, FOURTEEN_BYTE, celsius);
}

describe('readDisplay', () => {
  it.each([
    ['1206', ['V', 'DC', '/100', 'AUTO', 'LINK'], 'dc-volts', 12.06],
    ['0123', ['V', 'DC', 'minus', '/1000'], 'dc-volts', -0.123],
    ['1234', ['m', 'V', 'AC', '/10'], 'ac-volts', 0.1234],
    ['5678', ['m', 'A', 'DC', '/100'], 'dc-amps', 0.05678],
    ['0900', ['u', 'A', 'DC'], 'dc-amps', 0.0009],
    ['0250', ['A', 'AC', '/1000'], 'ac-amps', 0.25],
    ['4700', ['k', 'ohm', '/1000'], 'ohms', 4700],
    ['1000', ['M', 'ohm', '/1000'], 'ohms', 1e6],
    ['0041', ['ohm', 'beep', '/10'], 'ohms', 4.1],
    ['0500', ['Hz', '/10'], 'frequency', 50],
    ['1000', ['k', 'Hz', '/1000'], 'frequency', 1000],
    ['  42', ['V', 'DC', '/10'], 'dc-volts', 4.2],
    ['8888', ['V', 'DC'], 'dc-volts', 8888],
  ] as const)('reads %s with %j as %s %d', (characters, symbols, measures, value) => {
    expect(shown(characters, symbols)).toEqual({ kind: 'number', measures, value, isBatteryLow: false });
  });

  it.each([
    [' 0L ', ['ohm', 'M', '/10']],
    [' 0L ', ['ohm', 'k']],
    ['0L  ', ['ohm']],
    ['  0L', ['ohm', 'minus']],
  ] as const)('reads "%s" with %j as an overload', (characters, symbols) => {
    expect(shown(characters, symbols)).toMatchObject({ kind: 'overload', measures: 'ohms' });
  });

  it.each([
    ['    ', ['V', 'DC'], /no number/],
    ['1 23', ['V', 'DC'], /no number/],
    ['12  ', ['V', 'DC'], /no number/],
    ['1L23', ['V', 'DC'], /no number/],
    ['-123', ['V', 'DC'], /no digit/],
    ['1234', ['V', 'DC', '/10', '/100'], /2 points/],
    ['1234', ['V'], /neither AC nor DC/],
    ['1234', ['V', 'AC', 'DC'], /both AC and DC/],
    ['1234', ['V', 'A', 'DC'], /volt and ampere at once/],
    ['1234', ['V', 'DC', 'm', 'k'], /milli and kilo at once/],
    ['1234', ['DC'], /no unit/],
    ['0650', ['V', 'DC', 'diode', '/1000'], /diode/],
    ['0500', ['%', '/10'], /percent/],
    ['1000', ['n', 'F'], /farad/],
  ] as const)('takes "%s" with %j for no reading', (characters, symbols, why) => {
    const display = shown(characters, symbols);
    expect(display.kind).toBe('unknown');
    expect('why' in display && display.why).toMatch(why);
  });

  it.each(['HOLD', 'REL'] as const)('gives no number while %s is on', (symbol) => {
    expect(shown('1206', ['V', 'DC', '/100', symbol])).toMatchObject({ kind: 'not-live' });
  });

  it('says that the battery is low, whatever else it shows', () => {
    expect(shown('1206', ['V', 'DC', 'battery'])).toMatchObject({ kind: 'number', isBatteryLow: true });
    expect(shown('    ', ['battery'])).toMatchObject({ kind: 'unknown', isBatteryLow: true });
  });

  it('reads degrees C only by the symbol that the bench file names', () => {
    expect(shown('0413', ['/10', 'free3'], 3)).toMatchObject({ measures: 'temperature', value: 41.3 });
    expect(shown('0413', ['/10', 'free2'], 3)).toMatchObject({ kind: 'unknown' });
    expect(shown('0413', ['/10', 'free2', 'free3'], 3)).toMatchObject({ kind: 'unknown' });
    expect(shown('0413', ['/10', 'm', 'free3'], 3)).toMatchObject({ kind: 'unknown' });
    expect(shown('0413', ['/10', 'free3'])).toMatchObject({
      why: expect.stringContaining('celsius_symbol: 3') as string,
    });
  });

  it('reads every number from 0 to 9999', () => {
    for (let number = 0; number < 10_000; number += 1) {
      const display = shown(String(number).padStart(4, '0'), ['V', 'DC', '/1000']);
      expect(display.kind === 'number' && display.value).toBe(number / 1000);
    }
  });

  it('reads no other pattern of bars as a digit', () => {
    // 128 patterns: blank, ten digits and L are known, the latter no number.
    const numbers = Array.from({ length: 128 }, (_, bars) => {
      const frame = meterFrame('111 ', 'V', 'DC').map((byte) => byte & 0xf);
      frame[7] = bars >> 4;
      frame[8] = bars & 0xf;
      return readDisplay(frame, FOURTEEN_BYTE).kind;
    });
    expect(numbers.filter((kind) => kind === 'number')).toHaveLength(10);
  });
});
