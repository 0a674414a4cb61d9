import { describe, expect, it } from 'vitest';
import type { Measurand } from '../../../drivers/driver.js';
import type { ByteEnd } from '../../../drivers/simulated/device.js';
import { nr3 } from '../../../drivers/simulated/meter-functions.js';
import { seededRandom } from '../../../drivers/simulated/random.js';
import { SCPI_METER_IDENTITY, scpiMeterDevice } from '../../../drivers/simulated/scpi-meter-device.js';
import type { ScpiMeterOptions } from '../../../drivers/simulated/scpi-meter-device.js';
import { manualClock } from '../../manual-clock.js';

const SEEN: Partial<Record<Measurand, number>> = {
  'dc-volts': 12.03,
  'ac-volts': 0.0004,
  temperature: 41.25,
};
const QUIET = { uniform: () => 0.5, normal: () => 0 };

function meterOnTable(options: Partial<ScpiMeterOptions> = {}) {
  const clock = manualClock();
  let said = '';
  let hear: (bytes: Uint8Array) => void = () => undefined;
  const end: ByteEnd = {
    send: (bytes) => (said += new TextDecoder().decode(bytes)),
    onBytes: (listener) => (hear = listener),
  };
  const measure = (measurand: Measurand) => SEEN[measurand] ?? null;
  const device = scpiMeterDevice({ end, clock, random: QUIET, measure, ...options });
  device.start();
  const write = (text: string): void => hear(new TextEncoder().encode(text));
  const taken = (): string => {
    const text = said;
    said = '';
    return text;
  };
  return {
    clock,
    device,
    write,
    taken,
    ask(text: string): string {
      write(`${text}\n`);
      clock.advance(1000);
      return taken();
    },
  };
}

describe('common commands (IEEE 488.2 chapter 10)', () => {
  it('*IDN? answers four fields in at most 72 characters', () => {
    expect(meterOnTable().ask('*IDN?')).toBe(`${SCPI_METER_IDENTITY}\n`);
    expect(SCPI_METER_IDENTITY.split(',')).toHaveLength(4);
    expect(SCPI_METER_IDENTITY.length).toBeLessThanOrEqual(72);
  });

  it('*ESR? tells of power-on once, then of command errors', () => {
    const meter = meterOnTable();
    expect([meter.ask('*ESR?'), meter.ask('*ESR?'), meter.ask('NONSENSE'), meter.ask('*ESR?')]).toEqual([
      '128\n',
      '0\n',
      '',
      '32\n',
    ]);
  });

  it('*STB? shows a waiting error and an enabled event', () => {
    const meter = meterOnTable();
    expect(meter.ask('*ESR?;*ESE 32;*STB?')).toBe('128;0\n');
    expect(meter.ask('NONSENSE;*STB?')).toBe('36\n');
    expect(meter.ask('*CLS;*STB?')).toBe('0\n');
  });

  it.each([
    ['*OPC?', '1\n'],
    ['*TST?', '0\n'],
    ['SYST:VERS?', '1999.0\n'],
    ['*CLS;*IDN?', `${SCPI_METER_IDENTITY}\n`],
    ['*OPC?;*TST?', '1;0\n'],
    ['*cls', ''],
  ])('%s answers %j', (question, answer) => {
    expect(meterOnTable().ask(question)).toBe(answer);
  });
});

describe('readings', () => {
  it.each([
    'MEAS:VOLT?',
    'MEASURE:VOLTAGE:DC?',
    ':meas:volt:dc? auto',
    'Conf:Volt;:Read?',
    'CONF:VOLT:DC 100,0.001;:READ?',
  ])('%s answers in NR3', (question) => {
    expect(meterOnTable().ask(question)).toBe('+1.20300000E+01\n');
  });

  it('takes its time: nothing before the conversion is done', () => {
    const meter = meterOnTable();
    meter.write('READ?\n');
    meter.clock.advance(99);
    expect(meter.taken()).toBe('');
    meter.clock.advance(1);
    expect(meter.taken()).toBe('+1.20300000E+01\n');
  });

  it('answers one message after another, in order', () => {
    const meter = meterOnTable();
    meter.write('READ?\n*OPC?\nMEAS:TEMP?\n');
    meter.clock.advance(100);
    expect(meter.taken()).toBe('+1.20300000E+01\n1\n');
    meter.clock.advance(100);
    expect(meter.taken()).toBe('+4.12500000E+01\n');
  });

  it('FETCh? repeats the last reading without a new one', () => {
    const meter = meterOnTable();
    meter.ask('INIT');
    meter.write('FETC?\n');
    expect(meter.taken()).toBe('+1.20300000E+01\n');
  });

  it('FETCh? without a reading is stale data', () => {
    const meter = meterOnTable();
    expect(meter.ask('FETC?')).toBe('');
    expect(meter.ask('SYST:ERR?')).toBe('-230,"Data corrupt or stale"\n');
  });

  it('shows overload beyond its range as 9.9E37, with the sign', () => {
    expect(meterOnTable().ask('CONF:VOLT:DC 10;:READ?')).toBe('+9.90000000E+37\n');
    expect(meterOnTable({ measure: () => -12.03 }).ask('CONF:VOLT:DC 10;:READ?')).toBe('-9.90000000E+37\n');
    expect(meterOnTable().ask('MEAS:RES?')).toBe('+9.90000000E+37\n');
  });

  it('shows what it cannot measure as 9.91E37', () => {
    expect(meterOnTable({ measure: () => null }).ask('MEAS:TEMP?')).toBe('+9.91000000E+37\n');
  });

  it('has a digit of a hundred-thousandth of its range, and the gain error it was given', () => {
    expect(meterOnTable({ measure: () => 12.03456 }).ask('READ?')).toBe('+1.20350000E+01\n');
    expect(meterOnTable({ digit: () => 0.01 }).ask('READ?')).toBe('+1.20300000E+01\n');
    expect(meterOnTable({ gainError: () => 0.001 }).ask('READ?')).toBe('+1.20420000E+01\n');
  });

  it('scatters by about a third of a digit (seed 1)', () => {
    const meter = meterOnTable({ random: seededRandom(1) });
    const readings = Array.from({ length: 50 }, () => Number(meter.ask('READ?')));
    expect(new Set(readings).size).toBeGreaterThan(1);
    for (const reading of readings) expect(Math.abs(reading - 12.03)).toBeLessThan(0.003);
  });

  it('tells what it is set to', () => {
    const meter = meterOnTable();
    expect(meter.ask('CONF:CURR:AC 1;:CONF?')).toBe('"CURR:AC +1.00000000E+00,+1.00000000E-05"\n');
    expect(meter.ask('SENS:FUNC "VOLT:AC";:FUNC?')).toBe('"VOLT:AC"\n');
    expect(meter.ask('*RST;FUNC?')).toBe('"VOLT"\n');
  });
});

describe('errors', () => {
  it.each([
    ['MEASU:VOLT?', '-113,"Undefined header"'],
    [':SYST :ERR?', '-113,"Undefined header"'],
    ['READ', '-113,"Undefined header"'],
    ['*RST 1', '-108,"Parameter not allowed"'],
    ['CONF:VOLT:DC 1,2,3', '-108,"Parameter not allowed"'],
    ['CONF:VOLT:DC 5000', '-222,"Data out of range"'],
    ['CONF:VOLT:DC BIG', '-224,"Illegal parameter value"'],
    ['CONF:VOLT:DC "10"', '-104,"Data type error"'],
    ['FUNC', '-109,"Missing parameter"'],
    ['FUNC "SMOKE"', '-224,"Illegal parameter value"'],
    ['*ESE 300', '-222,"Data out of range"'],
    [`*IDN?${' '.repeat(300)}`, '-363,"Input buffer overrun"'],
  ])('%s gives %s and no answer', (message, error) => {
    const meter = meterOnTable();
    expect(meter.ask(message)).toBe('');
    expect(meter.ask('SYSTem:ERRor:NEXT?')).toBe(`${error}\n`);
    expect(meter.ask('SYST:ERR?')).toBe('0,"No error"\n');
  });

  it('a wrong unit leaves the answers of the others', () => {
    expect(meterOnTable().ask('*OPC?;NONSENSE;*TST?')).toBe('1;0\n');
  });

  it('keeps no more messages than its buffer holds, and tells', () => {
    const meter = meterOnTable();
    meter.write('READ?\n'.repeat(100));
    meter.clock.advance(100_000);
    expect(meter.taken().split('\n').length - 1).toBeLessThanOrEqual(33);
    expect(meter.ask('SYST:ERR?')).toBe('-363,"Input buffer overrun"\n');
  });

  it('survives any bytes, and answers afterwards', () => {
    const meter = meterOnTable();
    meter.write(String.fromCharCode(...Array.from({ length: 128 }, (_, code) => code)).repeat(20));
    meter.write('\n');
    meter.clock.advance(1000);
    meter.taken();
    expect(meter.ask('*IDN?')).toBe(`${SCPI_METER_IDENTITY}\n`);
  });
});

describe('the unit of temperatures (SCPI-1999 volume 2, UNIT:TEMPerature)', () => {
  it('is degrees C and no other', () => {
    const meter = meterOnTable();
    expect(meter.ask('UNIT:TEMP C;:SYST:ERR?')).toBe('0,"No error"\n');
    expect(meter.ask('UNIT F;:SYST:ERR?')).toMatch(/^-224,/);
  });
});

describe('power', () => {
  it('forgets a reading that was under way, and its errors', () => {
    const meter = meterOnTable();
    meter.write('NONSENSE\nREAD?\n');
    meter.device.stop();
    meter.clock.advance(1000);
    expect(meter.taken()).toBe('');
    meter.device.start();
    expect(meter.ask('SYST:ERR?')).toBe('0,"No error"\n');
  });

  it('hears nothing while it is off', () => {
    const meter = meterOnTable();
    meter.device.stop();
    expect(meter.ask('*IDN?')).toBe('');
  });
});

describe('nr3', () => {
  it.each([
    [12.03, '+1.20300000E+01'],
    [-0.00123456789, '-1.23456789E-03'],
    [0, '+0.00000000E+00'],
    [9.9e37, '+9.90000000E+37'],
    [1e-7, '+1.00000000E-07'],
  ])('%d is %s', (value, text) => {
    expect(nr3(value)).toBe(text);
  });
});
