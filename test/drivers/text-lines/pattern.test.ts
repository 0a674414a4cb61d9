import { describe, expect, it } from 'vitest';
import { parsePattern, PatternProblem } from '../../../drivers/text-lines/pattern.js';

const number = (name: string, unit = '', measures: string | undefined = undefined) => ({
  kind: 'number',
  name,
  unit,
  measures,
  isPrinted: unit !== '',
});
const text = (part: string) => ({ kind: 'text', text: part });
const blanks = (required = false) => ({ kind: 'blanks', required });

describe('parsePattern', () => {
  it.each(['{...}{a}', '{a}{...}', '{...}{...} {a}', '{a}5', '{...}'])('refuses %s', (source) => {
    expect(() => parsePattern(source)).toThrow(PatternProblem);
  });

  it.each(['{a},{b}', '{a},5'])('refuses %s where numbers have commas', (source) => {
    expect(() => parsePattern(source, 'comma')).toThrow(/could be read as one number/);
    expect(() => parsePattern(source)).not.toThrow();
  });

  it.each([
    ['{x rpm}', 'has "rpm" behind a name; write a unit there, such as mV, A, C or V AC'],
    ['{x V DC please}', 'has "V DC please" behind a name; write a unit there, such as mV, A, C or V AC'],
    ['{x F}', 'has the unit F; set the board to print degrees C and write C'],
  ])('refuses %s in words', (source, message) => {
    expect(() => parsePattern(source)).toThrow(message);
  });

  it('tells names, units and the words around them apart', () => {
    expect(parsePattern('T1: {lamps.case} C, U = {logic.volts}mV').parts).toEqual([
      text('T1:'),
      blanks(),
      number('lamps.case', 'C', 'temperature'),
      text(','),
      blanks(),
      text('U'),
      blanks(),
      text('='),
      blanks(),
      number('logic.volts', 'mV', 'dc-volts'),
    ]);
  });

  it.each([
    ['{x} V', 'dc-volts'],
    ['{x} V AC', 'ac-volts'],
    ['{x} VAC', 'ac-volts'],
    ['{x} A ac', 'ac-amps'],
    ['{x} °C', 'temperature'],
    ['{x} kΩ', 'ohms'],
    ['{x} Hz', 'frequency'],
    ['{x mV}', 'dc-volts'],
    ['{ x  C }', 'temperature'],
    ['{x V AC} V', 'ac-volts'],
    ['{x} C/min', undefined],
    ['{x} rpm', undefined],
    ['{x}', undefined],
    ['{x}, V', undefined],
  ])('in %s finds %s', (source, measures) => {
    const part = parsePattern(source).parts.find((found) => found.kind === 'number');
    expect(part).toMatchObject({ name: 'x', measures });
  });

  it.each([
    ['{a} {b}', true],
    ['{a} V {b}', false],
    ['set point {a}', true],
    ['{a} C', false],
    ['{a} 7', true],
    ['T1 max {a}', true],
    ['T1: {a}', false],
  ])('of %s needs the first blank: %s', (source, required) => {
    const { parts } = parsePattern(source);
    const found = parts.find((part) => part.kind === 'blanks');
    expect(found ?? blanks(false)).toEqual(blanks(required));
  });

  it.each([
    ['T1 C', /has no \{name\}/],
    ['{a', /a \{ without a \}/],
    ['a} {b}', /a \} without a \{/],
    ['{a}, {a}', /has \{a\} twice/],
    ['{}', /the name \{\}/],
    ['{1st}', /the name \{1st\}/],
    ['{a}{b}', /\{a\} right before \{b\}/],
    ['{a}5', /\{a\} right before 5/],
    ['T1{a}', /T1 right before \{a\}/],
    ['T-{a}', /T- right before \{a\}/],
    ['{a}e5', /\{a\} right before e5/],
    ['{a} °F', /the unit °F; set the board to print degrees C/],
    ['{a} F', /the unit F/],
    ['{a} K', /the unit K/],
    [`{a} ${'x'.repeat(500)}`, /504 characters long; up to 500/],
    [Array.from({ length: 33 }, (_, i) => `{n${i}}`).join(','), /has 33 names; up to 32/],
  ])('refuses %s', (source, words) => {
    expect(() => parsePattern(source)).toThrow(words);
  });
});
