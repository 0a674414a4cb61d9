import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NumberReader } from '../../../drivers/lines/number-reader.js';

function read(text: string, from = 0): { value: number; mark: string | null; end: number } | null {
  const reader = new NumberReader();
  if (!reader.read(Buffer.from(text), from)) return null;
  return { value: reader.value, mark: reader.mark, end: reader.end };
}

describe('NumberReader', () => {
  // NR1, NR2, NR3: the response forms of IEEE 488.2, 8.7.2 to 8.7.4 (from memory), longest 17, 17 and 22 characters.
  it.each([
    ['7', 7],
    ['-12', -12],
    ['+12.06', 12.06],
    ['.5', 0.5],
    ['5.', 5],
    ['+1.20340000E+01', 12.034],
    ['-9.91e-3', -0.00991],
    ['1E308', 1e308],
    ['0.1', 0.1],
    ['-0', -0],
    ['123456789012345678', 123456789012345680],
    ['4.35', 4.35],
    ['9.90000000E+37', 9.9e37],
  ])('reads %s', (text, value) => {
    expect(read(text)).toEqual({ value, mark: null, end: text.length });
  });

  it.each([
    ['12.06.07', 5],
    ['12-5', 2],
    ['12e', 2],
    ['12e+', 2],
    ['1.2E+01+1.3E+01', 7],
    ['41,3', 2],
  ])('of %s reads as far as one number goes', (text, end) => {
    expect(read(text)?.end).toBe(end);
  });

  it.each([
    '',
    '-',
    '+',
    '.',
    '-.',
    'e5',
    'V',
    '--5',
    '12E+0123',
    '12345678901234567890123',
    'OLD',
    'NAND',
    'OL7',
  ])('finds no number in %j', (text) => {
    expect(read(text)).toBeNull();
  });

  it.each([
    ['OL', 'overload'],
    ['-OL', 'overload'],
    ['0.L', 'overload'],
    ['-0L', 'overload'],
    ['0.Lx', null],
    ['10L', null],
    ['O.L', 'overload'],
    ['.OL', 'overload'],
    ['OL.', 'overload'],
    ['OFL', 'overload'],
    ['Overrange', 'overload'],
    ['INFinity', 'overload'],
    ['OVLD', 'overload'],
    ['ovf', 'overload'],
    ['----', 'overload'],
    ['--.-', 'overload'],
    ['inf', 'overload'],
    ['nan', 'not-a-number'],
    ['N/A', 'not-a-number'],
    ['OPEN', 'not-a-number'],
    ['Error', 'not-a-number'],
    ['null', 'not-a-number'],
  ])('takes %s for the mark %s', (text, mark) => {
    expect(read(`${text} V`)?.mark).toBe(mark);
  });

  it('agrees with the language to the last bit on any number that instruments send (seed 21)', () => {
    const sign = fc.constantFrom('', '+', '-');
    const digits = fc.bigInt({ min: 0n, max: 10n ** 17n }).map(String);
    const exponent = fc.option(fc.tuple(fc.constantFrom('e', 'E-', 'E+'), fc.integer({ min: 0, max: 60 })));
    fc.assert(
      fc.property(sign, digits, fc.nat(17), exponent, (signText, all, pointAt, power) => {
        const mantissa = pointAt < all.length ? `${all.slice(0, pointAt)}.${all.slice(pointAt)}` : all;
        const text = signText + mantissa + (power === null ? '' : power.join(''));
        fc.pre(text.length <= 22);
        expect(read(text)).toEqual({ value: Number(text), mark: null, end: text.length });
      }),
      { seed: 21, numRuns: 2000 },
    );
  });

  it('reads in the middle of a line', () => {
    expect(read('T1: 41.3 C', 4)).toEqual({ value: 41.3, mark: null, end: 8 });
  });
});
