import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineMatcher } from '../../../drivers/text-lines/matcher.js';
import { parsePattern } from '../../../drivers/text-lines/pattern.js';

/** What a pattern reads in a line: numbers or marks in order, or null. */
function read(pattern: string, line: string): (number | string)[] | null {
  const matcher = new LineMatcher(parsePattern(pattern));
  if (!matcher.match(Buffer.from(line))) return null;
  return matcher.marks.map((mark, slot) => mark ?? (matcher.values[slot] as number));
}

/** The same for a board that prints decimal commas. */
function readCommas(pattern: string, line: string): number[] | null {
  const matcher = new LineMatcher(parsePattern(pattern, 'comma'), new Map(), 'comma');
  return matcher.match(Buffer.from(line)) ? [...matcher.values] : null;
}

describe('LineMatcher', () => {
  it.each([
    ['{...} T1: {a} C', '12:30:05 T1: 41.3 C', [41.3]],
    ['{...}T1: {a} C', 'at 12:30:05 T1: 41.3 C', [41.3]],
    ['{...},{a},{b}', '12:30:05,41.3,38.9', [41.3, 38.9]],
    ['{a} V {...}', '5.01 V range 20 V auto', [5.01]],
    ['{a} {...} {b}', '5 x9! 7', [5, 7]],
    ['U_mV={a mV}, T={b C}', 'U_mV=12060, T=41.3', [12.06, 41.3]],
    ['{a mV} {b C} temp {...}', '12060 41.3 temp x', [12.06, 41.3]],
  ])('with %j skips what changes in %j', (pattern, line, values) => {
    expect(read(pattern, line)).toEqual(values);
  });

  it.each([
    ['{...} T1: {a} C', 'T1: 41.3 C'],
    ['{...}T1: {a} C', 'T2: 41.3 C'],
    ['{a} {...}', '5.0.1'],
    ['U={a mV}', 'U=12060 V'],
    ['{a C} {b C}', '41.3'],
  ])('with %j reads nothing in %j', (pattern, line) => {
    expect(read(pattern, line)).toBeNull();
  });

  it.each([
    ['T1: {a} C, T2: {b} C', 'T1: 41,3 C, T2: 38,9 C', [41.3, 38.9]],
    ['{a}, {b}', '12,5, 13', [12.5, 13]],
    ['{a} V', '-1,5e-3 V', [-0.0015]],
    ['{a} V', '1234567890123456,5 V', [1234567890123456.5]],
  ])('with %j reads decimal commas in %j', (pattern, line, values) => {
    expect(readCommas(pattern, line)).toEqual(values);
  });

  it.each(['12.5 V', '12,5,1 V', '12, V'])('reads no decimal comma in %j', (line) => {
    expect(readCommas('{a} V', line)).toBeNull();
  });

  it('goes through a line that is made to be slow once, however often it could be tried', () => {
    const matcher = new LineMatcher(parsePattern(`${'{...}a'.repeat(60)} {x} V`));
    expect(matcher.match(Buffer.from('a'.repeat(4000)))).toBe(false);
    expect(matcher.match(Buffer.from(`${'ba'.repeat(60)} 5 V`))).toBe(true);
  });

  it.each([
    ['T1: {a} C, T2: {b} C', 'T1: 41.3 C, T2: 38.9 C', [41.3, 38.9]],
    ['T1: {a} C, T2: {b} C', '  T1:41.3C,T2:   38.9 \tC ', [41.3, 38.9]],
    ['T1: {a} C, T2: {b} C', 'T1: -0.5 °C , T2: +1e2 degC', [-0.5, 100]],
    ['{a} V', '12.3 mV', [0.0123]],
    ['{a} mV', '12.3 mV', [0.0123]],
    ['{a} mV', '12.3 V', [12.3]],
    ['{a} A', '250 µA', [0.00025]],
    ['{a} ohm', '4.7 kΩ', [4700]],
    ['{a} {b}', '1 2', [1, 2]],
    ['{a};{b}', '1;-2', [1, -2]],
    ['count {n} at {a} V', 'count 7 at 5.01 V', [7, 5.01]],
    ['{a} V', 'OL V', ['overload']],
    ['{a} V', 'OVLD', ['overload']],
    ['T1: {a} C, T2: {b} C', 'T1: ---- C, T2: 38.9 C', ['overload', 38.9]],
    ['T1: {a} C, T2: {b} C', 'T1: 41.3 C, T2: nan', [41.3, 'not-a-number']],
  ])('with %j reads %j', (pattern, line, values) => {
    expect(read(pattern, line)).toEqual(values);
  });

  it.each([
    ['T1: {a} C', 'T1: 41.3'],
    ['T1: {a} C', 'T1: 41.3 V'],
    ['T1: {a} C', 'T1: 41.3 F'],
    ['T1: {a} C', 'T1: 41.3 mC'],
    ['T1: {a} C', 'T1: 41,3 C'],
    ['T1: {a} C', 'T1: 41.3.2 C'],
    ['T1: {a} C', 'T1: 41.3 C/min'],
    ['T1: {a} C', 'T1: 41.3 C, T2: 38.9 C'],
    ['T1: {a} C', 'T 1: 41.3 C'],
    ['T1: {a} C', 't1: 41.3 C'],
    ['T1: {a} C', '1: 41.3 C'],
    ['{a} V', '12.06 V AC'],
    ['{a} {b}', '12-5'],
    ['{a} {b}', '12.5'],
    ['set {a}', 'set'],
    ['{a}', ''],
  ])('with %j refuses %j', (pattern, line) => {
    expect(read(pattern, line)).toBeNull();
  });

  it('takes the kind of volts from outside where the pattern leaves it open', () => {
    const matcher = new LineMatcher(parsePattern('{a} V'), new Map([['a', 'ac-volts']]));
    expect(matcher.match(Buffer.from('12.3 mVAC'))).toBe(true);
    expect(matcher.match(Buffer.from('12.3 VDC'))).toBe(false);
  });

  it('agrees with a regular expression on lines made of what it looks for (seed 30)', () => {
    const numeral = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?`;
    const oracle = new RegExp(String.raw`^\s*T1:\s*(${numeral})\s*C\s*,\s*T2:\s*(${numeral})\s*C\s*$`);
    const piece = fc.constantFrom('T1:', 'T2:', ' ', 'C', ',', '4', '1.5', '-', '.', 'e1', 'V');
    const good = fc.constantFrom('T1: 1.5 C, T2: -4 C', 'T1:41C,T2:.5C', ' T1: 4e1 C , T2: 4 C');
    const line = fc.oneof(
      fc.array(piece, { maxLength: 12 }).map((pieces) => pieces.join('')),
      fc
        .tuple(good, fc.nat(20), piece)
        .map(([text, at, extra]) => text.slice(0, at) + extra + text.slice(at)),
      good,
    );
    fc.assert(
      fc.property(line, (text) => {
        const expected = oracle.exec(text);
        expect(read('T1: {a} C, T2: {b} C', text)).toEqual(
          expected === null ? null : [Number(expected[1]), Number(expected[2])],
        );
      }),
      { seed: 30, numRuns: 3000 },
    );
  });
});
