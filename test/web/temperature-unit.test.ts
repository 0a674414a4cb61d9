import { afterEach, describe, expect, it } from 'vitest';
import {
  differenceStyle,
  formatLimit,
  formatQuantity,
  formatRange,
  keepUnits,
  numberStyle,
} from '../../web/format.js';
import { showTemperaturesIn } from '../../web/temperature-unit.js';

const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

afterEach(() => showTemperaturesIn('C'));

// Fixed points: water freezes at 32 °F and boils at 212 °F; both scales meet at -40 (NIST SP 811, B.8).
describe('temperatures in °F', () => {
  it.each([
    [0, '32.0 °F'],
    [100, '212.0 °F'],
    [-40, '\u221240.0 °F'],
    [37, '98.6 °F'],
  ])('%d °C is %s', (degreesC, text) => {
    showTemperaturesIn('F');
    expect(plain(formatQuantity(degreesC, numberStyle('degC', 50)))).toBe(text);
  });

  it('limits, ranges and what is left between two of them', () => {
    showTemperaturesIn('F');
    const style = numberStyle('degC', 50);
    expect(plain(formatLimit(100, style))).toBe('212 °F');
    expect(plain(formatRange(0, 100, style))).toBe('32.0 to 212.0 °F');
    // A kelvin is 1.8 degrees F wide (NIST SP 811, B.8).
    expect(plain(formatQuantity(10, differenceStyle(style)))).toBe('18.0 °F');
  });

  it('in sentences of the daemon, whatever else stands there', () => {
    showTemperaturesIn('F');
    expect(plain(keepUnits('Case at 100 °C, above the 0 to 37.0 °C predicted; 8 K/W, 5.02 V.'))).toBe(
      'Case at 212 °F, above the 32 to 98.6 °F predicted; 8 K/W, 5.02 V.',
    );
  });

  it('nothing else moves', () => {
    showTemperaturesIn('F');
    expect(plain(formatQuantity(12.071, numberStyle('V', 12)))).toBe('12.07 V');
  });
});
