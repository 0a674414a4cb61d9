import { describe, expect, it } from 'vitest';
import { judge, type Judgement } from '../../../drivers/listen/judge.js';
import { meterFrame } from '../lcd-frames/meter-frames.js';
import { textLineEvents } from '../text-lines/events-of.js';
import { readingsOf } from '../events.js';

/** What the judgement proposes for these lines, heard from the middle of one on. */
function proposedFor(lines: readonly string[], before = 'alf a line\n') {
  const found = judge(Buffer.from(before + lines.map((line) => `${line}\r\n`).join('')));
  expect(found.kind).toBe('lines');
  return found as Extract<Judgement, { kind: 'lines' }>;
}

/** What a board of the table prints, and what a person reading it would write in the bench file. */
describe('judge, for lines', () => {
  it.each([
    [['T1: 41.3 C, T2: 38.9 C', 'T1: 41.4 C, T2: OL'], { pattern: 'T1: {t1} C, T2: {t2} C' }],
    [['U=12.06V I=250mA', 'U=12.05V I=251mA'], { pattern: 'U={u} V I={i} mA' }],
    [
      ['12:04:31 lamps 41,3 °C; logic 38,9 °C', '12:04:32 lamps 41,4 °C; logic 38,9 °C'],
      { pattern: '{...} lamps {lamps} °C; logic {logic} °C', decimal: 'comma' },
    ],
    [
      ['TEMP1=41.3C', 'TEMP2=38.9C', 'TEMP1=41.4C', 'TEMP2=38.8C'],
      { patterns: ['TEMP1={temp1} C', 'TEMP2={temp2} C'] },
    ],
    [['CH 1: 3.30 V ok', 'CH 1: 3.31 V warm'], { pattern: 'CH 1: {ch-1} V {...}' }],
    [['101 temp 41.3', '102 temp 41.4', '103 temp 41.4'], { pattern: '{...} temp {temp C}' }],
    [['U_mV=12060 Q', 'U_mV=12061 W'], { pattern: 'U_mV={u-mv mV} {...}' }],
    [['12.06 mV'], { pattern: '{volts} mV' }],
    [
      ['{"ms":17,"temps":{"lamps":41.3},"u":"12.06 V"}'],
      { format: 'json', fields: { 'temps.lamps': '{temps-lamps} C', u: '{u} V' } },
    ],
    [
      ['time,temp_lamps,temp_logic', '1,41.3,38.9', '2,41.4,', '3,41.4,38.8'],
      {
        format: 'csv',
        header: 'time,temp_lamps,temp_logic',
        fields: { temp_lamps: '{temp-lamps} C', temp_logic: '{temp-logic} C' },
      },
    ],
    [
      ['u;i_ma', '12,06;250', '12,07;251'],
      {
        format: 'csv',
        separator: 'semicolon',
        decimal: 'comma',
        header: 'u;i_ma',
        fields: { u: '{u} V', i_ma: '{i-ma} mA' },
      },
    ],
    [
      ['1001,41.3,38.9', '2001,41.4,38.9', '3001,41.4,38.8'],
      {
        format: 'csv',
        header: 'column1,column2,column3',
        fields: { column2: '{column2} V', column3: '{column3} V' },
      },
    ],
  ])('%j', (lines, options) => {
    expect(proposedFor(lines).proposal.options).toEqual(options);
  });

  it('proposes what reads the very numbers that were printed', () => {
    const lines = ['T1: 41.3 C, T2: OL', 'U=12060mV'];
    const { proposal, trial } = proposedFor(lines);
    expect(trial).toEqual({ read: 2, of: 2 });
    expect(readingsOf(textLineEvents(proposal.options, `.\n${lines.join('\n')}\n`))).toEqual([
      't1 41.3 degC',
      't2 overload degC',
      'u 12.06 V',
    ]);
  });

  it('says of which numbers it does not know what they are', () => {
    const { proposal } = proposedFor(['x 41.3 temp 20.1', 'x 17.2 temp 20.2']);
    expect(proposal.numbers).toEqual([
      { name: 'x', measures: 'dc-volts', isSure: false },
      { name: 'temp', measures: 'temperature', isSure: true },
    ]);
    expect(proposal.options).toEqual({ pattern: 'x {x V} temp {temp C}' });
  });

  it('takes a header that is the very first line, from a board that restarts when its port opens', () => {
    const { proposal } = proposedFor(['1,41.3', '2,41.4'], 'n,temp\n');
    expect(proposal.options).toMatchObject({ header: 'n,temp', fields: { temp: '{temp} C' } });
  });

  it('passes over a greeting', () => {
    const { trial, greeting } = proposedFor(['Signal board ready', 'T: 41.3 C', 'T: 41.4 C', 'T: 41.5 C']);
    expect(trial).toEqual({ read: 3, of: 4 });
    expect(greeting).toEqual(['Signal board ready']);
  });

  it('takes nothing that comes between readings for a greeting', () => {
    expect(proposedFor(['T: 41.3 C', 'door open', 'T: 41.4 C', 'T: 41.5 C']).greeting).toEqual([]);
  });
});

describe('judge, for all else', () => {
  it('knows frames of a display, and what they show', () => {
    const frame = meterFrame('1206', '/100', 'V', 'DC');
    const bytes = Buffer.concat([frame.subarray(9), frame, frame, frame]);
    expect(judge(bytes)).toEqual({ kind: 'lcd-frames', measures: 'dc-volts' });
    expect(judge(Buffer.concat([frame, Buffer.from('T1: 41 C\n'.repeat(20))])).kind).not.toBe('lcd-frames');
  });

  it.each([
    ['', 'silent'],
    ['ready\nnothing to say\nbye\n', 'text'],
    ['\x80\xfe\x06\x98\n\xf8\x80\x00\n', 'garbled'],
    ['x'.repeat(4000), 'garbled'],
    ['{"a":\n{"b":}\n', 'text'],
  ])('%j is %s', (text, kind) => {
    expect(judge(Buffer.from(text, 'latin1')).kind).toBe(kind);
  });

  it('reads a degree sign in one byte as text-lines does', () => {
    const bytes = Buffer.from('3 \xb0C\r\nT: 41.3 \xb0C\r\nT: 41.4 \xb0C\r\n', 'latin1'); // ISO/IEC 8859-1
    expect(judge(bytes)).toMatchObject({ kind: 'lines', trial: { read: 2, of: 2 } });
  });

  it('takes text sent at 9600 baud and read at 19200 for garbled', () => {
    // Each bit is seen twice: start, then the byte's bits in pairs, in frames of ten half bits (common practice of UARTs).
    const bits = [...'T1: 41.3 C\r\n'.repeat(8)].flatMap((character) => {
      const byte = character.charCodeAt(0);
      return [0, ...Array.from({ length: 8 }, (_, bit) => (byte >> bit) & 1), 1].flatMap((bit) => [bit, bit]);
    });
    const heard: number[] = [];
    for (let at = 0; at + 10 <= bits.length;) {
      if (bits[at] === 1) at += 1;
      else {
        heard.push(bits.slice(at + 1, at + 9).reduce((byte, bit, n) => byte | (bit << n), 0));
        at += 10;
      }
    }
    expect(judge(Uint8Array.from(heard)).kind).toBe('garbled');
  });
});
