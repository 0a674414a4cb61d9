import { describe, expect, it } from 'vitest';
import { pointsPromised, readInterchange } from '../../../drivers/scpi-scope/interchange.js';
import type { SampleForm } from '../../../drivers/scpi-scope/samples.js';

const BYTES: SampleForm = { bits: 8, signed: true, byteOrder: 'big' };
const WORDS: SampleForm = { bits: 16, signed: true, byteOrder: 'big' };

// The data interchange format of SCPI-1999 volume 3, from memory; no printed example was at hand.
const LONG =
  '(DIF (VERsion 1999.0) IDENtify (NAME "scope (1)") ENCode (FORMat INT8) ' +
  'DIMension=X (TYPE IMPLicit SCALe 1E-5 OFFSet -0.005 SIZE 1000 UNITs "S") ' +
  'DIMension=Y (TYPE EXPLicit SCALe 0.04 OFFSet 12 UNITs "V") DATA (CURVe (VALues #)))';
const SHORT =
  '(dif(vers 1999.0)dim=x(type impl scal 1e-5 size 1000)dim=y(type expl scal 0.04)data(curv(val #)))';

describe('readInterchange', () => {
  it('reads the long form', () => {
    expect(readInterchange(LONG, BYTES)).toEqual({
      points: 1000,
      stepSeconds: 1e-5,
      startSeconds: -0.005,
      scale: 0.04,
      offset: 12,
      form: BYTES,
      unit: 'V',
    });
  });

  it('reads the short form in small letters, with what is left out at its default', () => {
    expect(readInterchange(SHORT, WORDS)).toEqual({
      points: 1000,
      stepSeconds: 1e-5,
      startSeconds: 0,
      scale: 0.04,
      offset: 0,
      form: WORDS,
      unit: null,
    });
  });

  it.each([
    ['UINT16 BORDer SWAPped', { bits: 16, signed: false, byteOrder: 'little' }],
    ['INT16 BORDer NORMal', { bits: 16, signed: true, byteOrder: 'big' }],
    ['int16 bord swap', { bits: 16, signed: true, byteOrder: 'little' }],
  ])('takes the form of the samples from ENCode: %s', (written, form) => {
    expect(readInterchange(LONG.replace('INT8', written), WORDS)).toMatchObject({ form });
  });

  it.each([
    [LONG.replace('INT8', 'SFP32'), /not 8-bit whole numbers/],
    [LONG.replace('INT8', 'INT16'), /not 8-bit whole numbers/],
    [LONG.replace('SIZE 1000', ''), /no SIZE/],
    [LONG.replace('SCALe 0.04', 'SCALe 0'), /worth nothing/],
    [LONG.replace('SCALe 1E-5', 'SCALe -1E-5'), /no time between/],
    [LONG.replace('EXPLicit', 'IMPLicit'), /not one implicit and one explicit/],
    [LONG.replace('"S"', '"HZ"'), /in HZ, not seconds/],
    [LONG.slice(0, -1), /no data interchange format/],
    [LONG.slice(1), /no data interchange format/],
    [`${LONG})`, /no data interchange format/],
    ['#', /no data interchange format/],
    ['('.repeat(2000), /no data interchange format/],
    ['(DIF '.concat('A (B '.repeat(50)), /no data interchange format/],
    ['', /no data interchange format/],
  ])('refuses %s', (text, words) => expect(readInterchange(text, BYTES)).toMatch(words));
});

describe('pointsPromised', () => {
  it('finds the size before the block', () => {
    expect(pointsPromised('DIM=X (TYPE IMPL SIZE 1000 UNIT "S")')).toBe(1000);
    expect(pointsPromised('DIM=X (TYPE IMPL)')).toBeNull();
  });
});
