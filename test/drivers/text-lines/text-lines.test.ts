import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf, statesOf } from '../events.js';

function startWith(options: unknown, channels: readonly ChannelSpec[] = textLines.channelsOf(options)) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('board');
  const events: InstrumentEvent[] = [];
  textLines.start({
    instrument: 'board',
    link,
    channels,
    options,
    clock,
    emit: (event) => void events.push(event),
  });
  return { clock, far, events, print: (text: string) => far.send(Buffer.from(text)) };
}

describe('text-lines', () => {
  it('reads both temperatures of a line, with the time of its last byte', () => {
    const { clock, events, print } = startWith({ pattern: 'T1: {lamps.case} C, T2: {logic.case} C' });
    print('\nT1: 41.3 C, T2:');
    clock.advance(30);
    print(' 38.9 C\r\n');
    expect(readingsOf(events)).toEqual(['lamps.case 41.3 degC', 'logic.case 38.9 degC']);
    expect(events.at(-1)).toMatchObject({ kind: 'reading', atMs: 30 });
    expect(statesOf(events)).toEqual(['open', 'reading']);
  });

  it('does not read what is left of a line that began before the link opened', () => {
    const { far, events, print } = startWith({ pattern: '{logic.volts} V' });
    print('2.06 V\n12.06 V\n');
    far.unplug('pulled out');
    far.plugIn('board');
    print('.07 V\n12.07 V\n');
    expect(readingsOf(events)).toEqual(['logic.volts 12.06 V', 'logic.volts 12.07 V']);
    expect(faultsOf(events)).toEqual([]);
  });

  it('marks an overload and a value that cannot be, and gives neither a number', () => {
    const { events, print } = startWith({ pattern: 'T1: {a} C' });
    print('\nT1: OL\nT1: nan C\nT1: -300 C\nT1: 20 C\n');
    expect(readingsOf(events)).toEqual([
      'a overload degC',
      'a not-a-number degC',
      'a out-of-range degC',
      'a 20 degC',
    ]);
    const marked = events.filter((event) => event.kind === 'reading').slice(0, 3);
    expect(marked.map(({ value }) => value)).toEqual([null, null, null]);
  });

  // ISO/IEC 8859-1: 0xB0 is the degree sign, 0xB5 the micro sign, 0xBA the masculine ordinal.
  it.each([
    ['T1: {a} °C', 'T1: 41.3 \xb0C', 'a 41.3 degC'],
    ['T1: {a} C', 'T1: 41.3\xb0C', 'a 41.3 degC'],
    ['T1: {a} ºC', 'T1: 41.3 \xbaC', 'a 41.3 degC'],
    ['I: {a} µA', 'I: 250 \xb5A', 'a 0.00025 A'],
  ])('reads %s from a device that prints its sign in one byte', (pattern, line, reading) => {
    for (let cut = 0; cut <= line.length; cut += 1) {
      const { events, far } = startWith({ pattern });
      const stream = Buffer.from(`\n${line}\r\n`, 'latin1');
      far.send(stream.subarray(0, cut));
      far.send(stream.subarray(cut));
      expect(readingsOf(events), `cut after ${cut}`).toEqual([reading]);
      expect(faultsOf(events)).toEqual([]);
    }
  });

  it('reads titles with such signs too', () => {
    const options = { format: 'csv', fields: { 'T1 [°C]': '{a} C' } };
    const { events, far } = startWith(options);
    far.send(Buffer.from('time,T1 [\xb0C]\n1,41.3\n', 'latin1'));
    expect(readingsOf(events)).toEqual(['a 41.3 degC']);
  });

  it.each([
    ['a nought with a wrong parity bit', 'T1: 4\xb0.3 C'],
    ['a five with a wrong parity bit', 'T1: 4\xb53 C'],
    ['another byte beyond ASCII', 'T1: 41.3 \xb0C\xff'],
    ['the same sign in UTF-8 beside it', 'T1: 41.3 \xc2\xb0C \xb0C'],
  ])('drops a line with %s', (_, line) => {
    const { events, far } = startWith({ pattern: 'T1: {a} C {...}' });
    far.send(Buffer.from(`\n${line}\n`, 'latin1'));
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(/^not-text/);
  });

  it.each([
    [{ pattern: 'T1: {a} C' }, 'T1: -127.00 C'],
    [{ format: 'json', fields: { t1: '{a} C' } }, '{"t1":-127}'],
    [{ format: 'csv', header: 'time,t1', fields: { t1: '{a} C' } }, '12,-127.0'],
  ])('gives no number for a one-wire sensor that is not there: %j', (options, line) => {
    const { events, print } = startWith(options);
    print(`\n${line}\n${line}\n`);
    expect(new Set(readingsOf(events))).toEqual(new Set(['a not-a-number degC']));
  });

  it('reads a unit in capitals where it can mean one thing only', () => {
    const { events, print } = startWith({ pattern: '{a} V' });
    const resistor = startWith({ pattern: 'R {b} kOhm' });
    print('\n0.0050 MV\n5.01 V\n');
    resistor.print('\nR 4.7 KOHM\n');
    expect(readingsOf(events)).toEqual(['a 5.01 V']);
    expect(faultsOf(events)[0]).toMatch(/^not-understood: .*MV/);
    expect(readingsOf(resistor.events)).toEqual(['b 4700 ohm']);
  });

  it('reads lines with a NUL behind each, but for the first', () => {
    const { events, far, print } = startWith({ pattern: 'T1: {a} C' });
    for (const tenths of [1, 2, 3, 4]) print(`T1: 41.${tenths} C\r\n\0`);
    expect(readingsOf(events)).toEqual(['a 41.3 degC', 'a 41.4 degC']);
    far.unplug('pulled out');
    far.plugIn('board');
    for (const tenths of [5, 6, 7]) print(`T1: 41.${tenths} C\r\n\0`);
    expect(readingsOf(events).slice(2)).toEqual(['a 41.7 degC']);
  });

  it('takes the first pattern of several that fits', () => {
    const { events, print } = startWith({ patterns: ['T: {a} C', 'U: {b} V, I: {c} mA'] });
    print('\nU: 5.01 V, I: 250 mA\nT: 41 C\n');
    expect(readingsOf(events)).toEqual(['b 5.01 V', 'c 0.25 A', 'a 41 degC']);
  });

  it('reads only the channels that the bench file has, as what it says they are', () => {
    const { events, print } = startWith({ pattern: '{n} {ripple} V {x}' }, [
      { name: 'ripple', measures: 'ac-volts' },
      { name: 'x', measures: 'frequency' },
    ]);
    print('\n17 0.12 V 100\n');
    expect(readingsOf(events)).toEqual(['ripple 0.12 Vrms', 'x 100 Hz']);
  });

  it('does not read a channel that pattern and bench file describe differently, and says why', () => {
    const { events, print } = startWith({ pattern: '{a} C {b} V AC' }, [
      { name: 'a', measures: 'dc-volts' },
      { name: 'b', measures: 'dc-volts' },
      { name: 'c', measures: 'ohms' },
    ]);
    print('\n12 C 5 V AC\n');
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)).toEqual([
      'not-understood: the pattern has {a} C (temperature), the bench file says dc-volts; make the two agree',
      'not-understood: the pattern has {b} V (ac-volts), the bench file says dc-volts; make the two agree',
      'not-understood: no pattern has {c}, so this channel is never read',
    ]);
  });

  it('quotes a line that no pattern describes, and counts the rest of a flood', () => {
    const { clock, events, print } = startWith({ pattern: 'T1: {a} C' });
    print('\n' + 'boot\x1b[1m v2\n'.repeat(500));
    expect(faultsOf(events)).toEqual(['not-understood: a line that no pattern describes: "boot\\x1b[1m v2"']);
    clock.advance(1000);
    const faults = events.filter((event) => event.kind === 'fault');
    expect(faults.map(({ count }) => count)).toEqual([1, 500]);
  });

  it('reads the same however the stream is cut (seed 31)', () => {
    const line = fc.tuple(fc.integer({ min: -999, max: 999 }), fc.constantFrom('\n', '\r\n'));
    const sizes = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1 });
    fc.assert(
      fc.property(fc.array(line), sizes, (lines, cuts) => {
        const { events, print } = startWith({ pattern: 'T1: {a} C' });
        const stream = '\n' + lines.map(([tenths, end]) => `T1: ${tenths / 10} C${end}`).join('');
        for (let at = 0, turn = 0; at < stream.length; turn += 1) {
          const size = cuts[turn % cuts.length] ?? 1;
          print(stream.slice(at, at + size));
          at += size;
        }
        const expected = lines.map(([tenths]) => `a ${tenths / 10} degC`);
        expect(readingsOf(events)).toEqual(expected);
      }),
      { seed: 31 },
    );
  });

  it('reads in junk only what stands there as a whole line (seed 32)', () => {
    const junk = fc.uint8Array({ maxLength: 12 }).map((bytes) => Buffer.from(bytes).toString('latin1'));
    const pieces = fc.array(
      fc.oneof(junk, fc.constantFrom('T: 4.5 C\n', 'T: 4', '.5 C\n', '\r\n', '7', ' ')),
    );
    fc.assert(
      fc.property(pieces, (parts) => {
        const { far, events } = startWith({ pattern: 'T: {a} C' });
        const stream = parts.join('');
        far.send(Buffer.from(stream, 'latin1'));
        const whole = stream.split(/\r\n|\r|\n/).slice(1, -1);
        const expected = whole.flatMap(
          (text) => /^[ \t]*T:[ \t]*(-?\d*\.?\d+)[ \t]*C[ \t]*$/.exec(text)?.[1] ?? [],
        );
        expect(readingsOf(events)).toEqual(expected.map((value) => `a ${Number(value)} degC`));
      }),
      { seed: 32, numRuns: 500 },
    );
  });
});

describe('the options of text-lines', () => {
  it('finds its channels in the patterns', () => {
    expect(textLines.channelsOf({ patterns: ['{n} {a} C', '{b} mV', '{a} C'] })).toEqual([
      { name: 'a', measures: 'temperature' },
      { name: 'b', measures: 'dc-volts' },
    ]);
    expect(textLines.channelsOf({ pattern: 7 })).toEqual([]);
  });

  it('has an interval of a second unless told otherwise', () => {
    expect(textLines.intervalMs({})).toBe(1000);
    expect(textLines.intervalMs({ interval_ms: 250 })).toBe(250);
  });

  it.each([
    [{ pattern: '{a} C' }, []],
    [{ patterns: ['{a} C', '{b} V'], interval_ms: 100 }, []],
    [{}, ['pattern']],
    [{ pattern: '{a} C', patterns: ['{b} C'] }, ['pattern']],
    [{ pattern: '{a} C', interval_ms: 0 }, ['interval_ms']],
    [{ pattern: '{a', patern: 'x' }, ['patern', 'pattern']],
    [{ patterns: [] }, ['patterns']],
    [{ patterns: ['{a} C', 'T'] }, ['patterns']],
    [null, ['options']],
  ])('%j has problems with %j', (options, keys) => {
    const problems = textLines.checkOptions(options).map(({ key }) => key);
    expect([...new Set(problems)]).toEqual(keys);
  });

  it('says in a problem what is wrong with the pattern', () => {
    expect(textLines.checkOptions({ pattern: '{a} F' })).toEqual([
      {
        key: 'pattern',
        found: '{a} F',
        allowed:
          'a pattern that can be read; this one has the unit F; set the board to print degrees C and write C',
      },
    ]);
  });
});
