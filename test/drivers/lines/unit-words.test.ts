import { describe, expect, it } from 'vitest';
import {
  endOfUnitWord,
  measurandOfUnit,
  timesPower,
  unitPower,
  unitWordAt,
} from '../../../drivers/lines/unit-words.js';

describe('unit words', () => {
  // Symbols and prefixes: BIPM, The International System of Units (SI brochure), 9th edition, tables 4 and 7.
  it.each([
    ['V', 'dc-volts'],
    ['mV', 'dc-volts'],
    ['VDC', 'dc-volts'],
    ['VAC', 'ac-volts'],
    ['mVrms', 'ac-volts'],
    ['A', 'dc-amps'],
    ['µA', 'dc-amps'],
    ['AAC', 'ac-amps'],
    ['ohm', 'ohms'],
    ['kΩ', 'ohms'],
    ['MOhm', 'ohms'],
    ['C', 'temperature'],
    ['°C', 'temperature'],
    ['degC', 'temperature'],
    ['Hz', 'frequency'],
    ['kHz', 'frequency'],
  ])('%s says %s', (word, measurand) => {
    expect(measurandOfUnit(word)).toBe(measurand);
  });

  it.each(['', 'F', 'mC', 'rpm', 'W', 'v', 'Volts!', 'constructor'])('%j is no unit that is read', (word) => {
    expect(measurandOfUnit(word)).toBeUndefined();
  });

  it('gives the power of ten to the unit of the measurand', () => {
    expect(unitPower('dc-volts', 'mV')).toBe(-3);
    expect(unitPower('ohms', 'MΩ')).toBe(6);
    expect(unitPower('dc-volts', 'VAC')).toBeUndefined();
    expect(unitPower('temperature', 'V')).toBeUndefined();
  });

  // Displays of capitals only have M for milli too, and nobody's bench has megavolts: common practice.
  it('takes no M before volts and amps, which may be milli or mega', () => {
    for (const word of ['MV', 'MVDC', 'MA', 'GV', 'MVrms', 'MAAC'])
      expect(measurandOfUnit(word)).toBeUndefined();
    expect(unitPower('frequency', 'MHZ')).toBe(6);
    expect(unitPower('ohms', 'MOHM')).toBe(6);
  });

  it('takes a capital K for kilo', () => {
    expect(unitPower('ohms', 'KOHM')).toBe(3);
    expect(unitPower('frequency', 'KHZ')).toBe(3);
    expect(unitPower('dc-volts', 'KV')).toBe(3);
    expect(measurandOfUnit('KC')).toBeUndefined();
  });

  it('scales without adding a rounding error where none is needed', () => {
    expect(timesPower(12.3, -3)).toBe(0.0123);
    expect(timesPower(4.7, 3)).toBe(4700);
    expect(timesPower(5, 0)).toBe(5);
  });

  it('finds where a unit word ends, in text and in bytes', () => {
    expect(unitWordAt('3.3 °C, x', 4)).toBe('°C');
    expect(unitWordAt('3.3, x', 3)).toBe('');
    const line = Buffer.from('3.3 °C, x');
    expect(line.toString('utf8', 4, endOfUnitWord(line, 4))).toBe('°C');
  });
});
