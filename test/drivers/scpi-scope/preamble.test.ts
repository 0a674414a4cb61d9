import { describe, expect, it } from 'vitest';
import { dialectFrom, type PreambleForm } from '../../../drivers/scpi-scope/dialect.js';
import { numberIn, readPreamble } from '../../../drivers/scpi-scope/preamble.js';

const FORM = dialectFrom('ten-field')?.preamble as PreambleForm;

describe('readPreamble', () => {
  // The order of the ten fields as programming manuals of instruments print it; the formulas of time and value are
  // from memory: value = (sample - yreference) x yincrement + yorigin, time = (i - xreference) x xincrement + xorigin.
  it('reads ten fields', () => {
    const text = '+0,+0,+1000,+1,+1.000E-05,-5.000E-03,+0,+4.000E-02,+1.200E+01,+128';
    expect(readPreamble(text, FORM, 8)).toEqual({
      points: 1000,
      scale: 0.04,
      offset: 12 - 128 * 0.04,
      startSeconds: -0.005,
      stepSeconds: 1e-5,
    });
  });

  it('counts the references in', () => {
    const scaling = readPreamble('1,2,10,8,0.5,3,4,2,5,6', FORM, 16);
    // Worked by hand: sample 7 is (7 - 6) x 2 + 5 = 7; sample 0 is taken at (0 - 4) x 0.5 + 3 = 1.
    expect(scaling).toMatchObject({ startSeconds: 1, stepSeconds: 0.5 });
    if (typeof scaling !== 'string') expect(7 * scaling.scale + scaling.offset).toBe(7);
  });

  it('knows the other order of subtraction', () => {
    const scaling = readPreamble('0,0,10,1,1,0,0,2,5,6', { ...FORM, formula: 'origin-reference-scale' }, 8);
    // Worked by hand: sample 20 is (20 - 5 - 6) x 2 = 18.
    if (typeof scaling !== 'string') expect(20 * scaling.scale + scaling.offset).toBe(18);
    expect(typeof scaling).toBe('object');
  });

  it.each([
    ['0,0,1000,1,1E-5,0,0,0.04,0', /9 fields instead of 10/],
    ['0,0,1000,1,1E-5,0,0,0.04,0,128,0', /11 fields/],
    ['1,0,1000,1,1E-5,0,0,0.04,0,128', /format 1 instead of 8 bits/],
    ['4,0,1000,1,1E-5,0,0,0.04,0,128', /format 4/],
    ['0,1,1000,1,1E-5,0,0,0.04,0,128', /acquisition type 1.*normal or average/],
    ['0,0,0,1,1E-5,0,0,0.04,0,128', /0 points/],
    ['0,0,1.5,1,1E-5,0,0,0.04,0,128', /1.5 points/],
    ['0,0,1000,1,0,0,0,0.04,0,128', /no time between/],
    ['0,0,1000,1,-1E-5,0,0,0.04,0,128', /no time between/],
    ['0,0,1000,1,1E-5,0,0,0,0,128', /worth nothing/],
    ['0,0,1000,1,9.91E37,0,0,0.04,0,128', /xincrement is no number/],
    ['0,0,1000,1,1E-5,,0,0.04,0,128', /xorigin is no number/],
    ['0,0,1000,1,1E-5,0,0,0.04 V,0,128', /yincrement is no number/],
  ])('refuses %s', (text, words) => expect(readPreamble(text, FORM, 8)).toMatch(words));
});

describe('numberIn', () => {
  it.each([
    ['+1.200E+01', 12],
    ['-.5', -0.5],
    [' 7. ', 7],
    ['9.9E37', null],
    ['0x10', null],
    ['', null],
    ['Infinity', null],
  ])('%j is %j', (text, number) => expect(numberIn(text)).toBe(number));
});
