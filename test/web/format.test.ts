import { describe, expect, it } from 'vitest';
import {
  formatDuration,
  formatLimit,
  formatNumber,
  formatQuantity,
  formatRange,
  formatSessionTime,
  keepUnits,
  numberStyle,
} from '../../web/format.js';

// Expected texts: SI writing rules (SI Brochure 9th ed., 5.4: a space between number and unit; prefixes).
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('numbers with units', () => {
  it.each([
    [12.071, 'V', 12, '12.07 V'],
    [124.32, 'V', 120, '124.3 V'],
    [0.00312, 'Vpp', 0.004, '3.12 mV pp'],
    [0.0421, 'Arms', 0.05, '42.1 mA rms'],
    [41.26, 'degC', 50, '41.3 °C'],
    [-4.97, 'V', 5, '\u22124.97 V'],
    [-0.001, 'V', 5, '0.00 V'],
    [23_400, 'ohm', 22_000, '23.40 kΩ'],
  ] as const)('%d %s beside %d is %s', (value, unit, reference, text) => {
    expect(plain(formatQuantity(value, numberStyle(unit, reference)))).toBe(text);
  });

  it('keeps the unit of the prediction for a value that is far off', () => {
    expect(plain(formatQuantity(1.2, numberStyle('Vpp', 0.004)))).toBe('1200 mV pp');
  });

  it('shows a dash for what is no number', () => {
    expect(formatNumber(NaN, numberStyle('V', 5))).toBe('—');
    expect(formatNumber(Infinity, numberStyle('V', 5))).toBe('—');
  });

  it('writes a band once with its unit, a whole limit without decimals', () => {
    expect(plain(formatRange(4.87, 5.13, numberStyle('V', 5)))).toBe('4.87 to 5.13 V');
    expect(plain(formatLimit(107, numberStyle('degC', 60)))).toBe('107 °C');
    expect(plain(formatLimit(5.5, numberStyle('V', 5)))).toBe('5.50 V');
  });
});

describe('times', () => {
  it.each([
    [-5, '0 s'],
    [12_900, '12 s'],
    [89_999, '89 s'],
    [250_000, '4 min'],
    [3_900_000, '1 h 05 min'],
  ])('%d ms lasts %s', (lengthMs, text) => {
    expect(plain(formatDuration(lengthMs))).toBe(text);
  });

  it.each([
    [0, '00:00'],
    [754_000, '12:34'],
    [4_354_000, '1:12:34'],
  ])('%d ms into the session is %s', (atMs, text) => {
    expect(formatSessionTime(atMs)).toBe(text);
  });
});

it('keeps number and unit together in a sentence from elsewhere', () => {
  expect(keepUnits('is at 108.6 °C, over 107 °C')).toBe('is at 108.6\u00a0°C, over 107\u00a0°C');
  expect(keepUnits('has 5 Volts and 3 V')).toBe('has 5 Volts and 3\u00a0V');
});
