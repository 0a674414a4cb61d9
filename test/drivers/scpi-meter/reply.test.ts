import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseAnyReply, parseReply, valueAt } from '../../../drivers/scpi-meter/reply.js';

const number = (value: number) => ({ value, mark: null });
const marked = (mark: string) => ({ value: NaN, mark });

describe('parseReply', () => {
  // NR1, NR2 and NR3 of IEEE 488.2, 8.7.2 to 8.7.4 (forms from memory).
  it.each([
    ['12', 12],
    ['-12.06', -12.06],
    ['+1.20340000E+01', 12.034],
    ['  +1.2034E+01 ', 12.034],
    ['+1.2034E+01 VDC', 12.034],
    ['+1.2034E+01VDC', 12.034],
    ['1203.4 mV', 1.2034],
    ['12.034 V DC', 12.034],
    ['VOLT:DC +1.2034E+01', 12.034],
    ['DCV 12.034 V', 12.034],
  ])('reads %j as volts', (line, volts) => {
    expect(parseReply(line, 'dc-volts')).toEqual(number(volts));
  });

  it('reads other measurands in their own units', () => {
    expect(parseReply('4.7 kOhm', 'ohms')).toEqual(number(4700));
    expect(parseReply('+4.13E+01 °C', 'temperature')).toEqual(number(41.3));
    expect(parseReply('100.02 Hz', 'frequency')).toEqual(number(100.02));
    expect(parseReply('0.25 AAC', 'ac-amps')).toEqual(number(0.25));
  });

  // SCPI-1999 volume 1, 7.2.1: infinity is sent as 9.9E37, its negative as -9.9E37, not-a-number as 9.91E37; the
  // same values stand in the programming manuals of instruments.
  it.each([
    ['9.9E37', 'overload'],
    ['+9.90000000E+37', 'overload'],
    ['-9.9E+37', 'overload'],
    ['+9.90000000E+37 VDC', 'overload'],
    ['9.91E37', 'not-a-number'],
    ['+9.91000000E+37', 'not-a-number'],
    ['OVLD', 'overload'],
    ['NAN', 'not-a-number'],
    ['NINF', 'overload'],
  ])('marks %j as %s', (line, mark) => {
    expect(parseReply(line, 'dc-volts')).toEqual(marked(mark));
  });

  it.each([
    '',
    'VDC',
    '+1.2034E+01 ADC',
    '+1.2034E+01 VAC',
    'VOLT:AC +1.2034E+01',
    'T1: 12.034',
    '12.0612.07',
    '+1.2034E+01+1.2035E+01',
    '+1.2034E+011.2035E+01',
    '12.06,12.07',
    '12.06 12.07',
    '0,"No error"',
    '-113,"Undefined header"',
    '1.2034E+0001',
    'READ?',
    '1.2.3',
    '#41024',
  ])('does not read %j as volts', (line) => {
    expect(parseReply(line, 'dc-volts')).toBeNull();
  });

  it('takes one of several values by its place', () => {
    const line = '+1.2034E+01VDC, +000123SECS,+00001RDNG#';
    expect(valueAt(line, 1)).toBe('+1.2034E+01VDC');
    expect(valueAt(line, 2)).toBe('+000123SECS');
    expect(valueAt(line, 4)).toBeNull();
  });

  it.each(['12.06;0,"No error"', '12.06;', ';12.06', '0,"No error";12.06'])(
    'does not read %j, an answer to several questions or what is left of one',
    (line) => expect(parseReply(line, 'dc-volts')).toBeNull(),
  );

  it('never reads two answers run together as one (seed 40)', () => {
    const sent = fc.double({ min: -1000, max: 1000, noNaN: true }).map((volts) => {
      const [mantissa = '', exponent = ''] = volts.toExponential(8).split('e');
      const sign = exponent.startsWith('-') ? '-' : '+';
      return `${volts < 0 ? '' : '+'}${mantissa}E${sign}${exponent.slice(1).padStart(2, '0')}`;
    });
    fc.assert(
      fc.property(sent, sent, fc.nat(15), (first, second, cut) => {
        expect(parseReply(first, 'dc-volts')).toEqual(number(Number(first)));
        expect(parseReply(first + second, 'dc-volts')).toBeNull();
        expect(parseReply(first + second.slice(1), 'dc-volts')).toBeNull();
        const torn = first.slice(0, first.length - 1 - (cut % 3)) + second;
        expect(parseReply(torn, 'dc-volts')).toBeNull();
      }),
      { seed: 40 },
    );
  });

  it('reads the same as its plain path does, whatever comes (seed 48)', () => {
    const sign = fc.constantFrom('', '+', '-', '--', ' ');
    const digits = fc.stringMatching(/^[0-9]{0,12}$/);
    const point = fc.constantFrom('.', '', ',', '..');
    const exponent = fc.constantFrom('', 'E+01', 'e-3', 'E+', 'E5', 'E+0001', 'E+37', 'E+300', 'E-300');
    const unit = fc.constantFrom(
      '',
      ' ',
      ' VDC',
      'V DC',
      'mV ',
      ' kV',
      'V',
      ' VAC',
      'L',
      ' A',
      '\t',
      ';0',
      '\u00a0V',
    );
    const reply = fc.tuple(sign, digits, point, digits, exponent, unit, fc.constantFrom('', ' ', '7', 'x'));
    let read = 0;
    fc.assert(
      fc.property(reply, (pieces) => {
        const line = pieces.join('');
        const found = parseReply(line, 'dc-volts');
        expect(found).toEqual(parseAnyReply(line, 'dc-volts'));
        if (found?.mark === null) read += 1;
      }),
      { seed: 48, numRuns: 5000 },
    );
    expect(read).toBeGreaterThan(300);
  });
});
