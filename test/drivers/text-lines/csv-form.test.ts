import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { cellsOf } from '../../../drivers/text-lines/csv-form.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';
import { driverContract, type DeviceSurroundings, type GoodDevice } from '../contract.js';
import { faultsOf, readingsOf } from '../events.js';

const FIELDS = { T1: '{lamps.case} C', T2: '{logic.case} C' };

function startWith(options: object) {
  const { link, far } = memoryLinkPair('board');
  const events: InstrumentEvent[] = [];
  const all = { format: 'csv', ...options };
  const emit = (event: InstrumentEvent): void => void events.push(event);
  const channels = textLines.channelsOf(all);
  textLines.start({ instrument: 'board', link, channels, options: all, clock: manualClock(), emit });
  return { far, events, print: (text: string) => far.send(Buffer.from(text)) };
}

describe('text-lines with format csv', () => {
  it('finds its columns by the header, wherever they stand', () => {
    const { events, print } = startWith({ fields: FIELDS });
    print('time,T2,T1\r\n12:00:01,38.9,41.3\r\n12:00:02,39.0,OL\r\n');
    expect(readingsOf(events)).toEqual([
      'lamps.case 41.3 degC',
      'logic.case 38.9 degC',
      'lamps.case overload degC',
      'logic.case 39 degC',
    ]);
    expect(faultsOf(events)).toEqual([]);
  });

  it('reads bare numbers as fast rows do the same as with everything quoted (seed 41)', () => {
    const cell = fc.oneof(
      fc.integer({ min: -9999, max: 9999 }).map((n) => String(n / 10)),
      fc.constantFrom('', 'OL', '12.06 C', ' 41.3 ', '1e2', '7x', '+.5', '-', '1,2'),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell, cell), { minLength: 1, maxLength: 20 }), (rows) => {
        const heard = [(text: string) => text, (text: string) => `"${text}"`].map((written) => {
          const { events, print } = startWith({ fields: FIELDS, header: 'T1;n;T2', separator: 'semicolon' });
          // Only the plain path reads a quoted cell that nobody wants.
          print(`.\n${rows.map(([t1, n, t2]) => `${t1};${written(n)};${t2}\n`).join('')}`);
          return { readings: readingsOf(events), faults: faultsOf(events).length };
        });
        expect(heard[0]).toEqual(heard[1]);
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it('reads decimal commas between semicolons, units in the cells and in the field', () => {
    const fields = { 'U logic (mV)': '{logic.volts} mV', U2: '{lamps.volts} V' };
    const { events, print } = startWith({ fields, decimal: 'comma' });
    print('U logic (mV);U2\n5012,5;12,06\n5013;12060 mV\n;----\n');
    expect(readingsOf(events)).toEqual([
      'logic.volts 5.0125 V',
      'lamps.volts 12.06 V',
      'logic.volts 5.013 V',
      'lamps.volts 12.06 V',
      'logic.volts not-a-number V',
      'lamps.volts overload V',
    ]);
  });

  it('takes the header from the options when the device printed it long ago', () => {
    const { events, print } = startWith({ fields: FIELDS, header: 'n,T1,T2' });
    print('9,41.2,38.8\n10,41.3,38.9\n');
    expect(readingsOf(events)).toEqual(['lamps.case 41.3 degC', 'logic.case 38.9 degC']);
  });

  it('reads nothing before a header, nor after a replug without one', () => {
    const { far, events, print } = startWith({ fields: FIELDS });
    print('1.2,3\n41.3,38.9\nT1,T2\n41.4,38.9\n');
    far.unplug('pulled out');
    far.plugIn('board');
    print('41.5,38.9\n41.6,38.9\n');
    expect(readingsOf(events)).toEqual(['lamps.case 41.4 degC', 'logic.case 38.9 degC']);
    expect(faultsOf(events)).toEqual(['not-understood: a line before any header with T1, T2: "41.3,38.9"']);
  });

  it.each([
    ['41.3,38.9,7', 'a line of 3 cells under a header of 2'],
    ['41.3', 'a line of 1 cells under a header of 2'],
    ['41.3,38.9.1', 'the column T2 holds no number'],
    ['41.3,warm', 'the column T2 holds no number'],
    ['41.3,38.9 V', 'the column T2 holds no number'],
  ])('reads no cell of %s', (line, why) => {
    const { events, print } = startWith({ fields: FIELDS });
    print(`T1,T2\n${line}\n`);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)).toEqual([`not-understood: ${why}: "${line}"`]);
  });
});

describe('cellsOf', () => {
  // The examples of RFC 4180, section 2.
  it.each([
    ['aaa,bbb,ccc', ['aaa', 'bbb', 'ccc']],
    ['"aaa","bbb","ccc"', ['aaa', 'bbb', 'ccc']],
    ['"aaa","b""bb","ccc"', ['aaa', 'b"bb', 'ccc']],
    ['"a,b",c', ['a,b', 'c']],
    ['a,,', ['a', '', '']],
  ])('takes %s apart', (text, cells) => {
    expect(cellsOf(text, ',')).toEqual(cells);
  });
});

/** Prints its header and then a line every 100 ms; its values never come twice. */
function board({ clock, say, promise }: DeviceSurroundings, head: string): GoodDevice {
  let lines = 0;
  let cancel: (() => void) | null = null;
  function print(): void {
    lines += 1;
    if (lines % 5 === 1) say(`${head}\r\n`);
    const lamps = (41 + lines / 1000).toFixed(3);
    const logic = (38 + lines / 1000).toFixed(3);
    promise('lamps.case', Number(lamps));
    promise('logic.case', Number(logic));
    cancel = clock.after(100, print);
    say(`cabin,${lamps},${logic}\r\n`);
  }
  return {
    wake: () => void (cancel ??= clock.after(100, print)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

const options = { format: 'csv', fields: FIELDS };

driverContract({
  driver: textLines,
  options,
  channels: textLines.channelsOf(options),
  device: (around) => board(around, 'place,T1,T2'),
  otherDevice: (around) => board(around, 'place,rpm,duty'),
  otherDeviceFault: 'not-understood',
  longestFrameBytes: 'cabin,41.001,38.001\r\n'.length,
});
