import { describe, expect, it } from 'vitest';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';
import { driverContract, type DeviceSurroundings, type GoodDevice } from '../contract.js';
import { faultsOf, readingsOf } from '../events.js';

const FIELDS = { 'cases.lamps': '{lamps.case} C', u: '{logic.volts} mV' };

function print(fields: object, text: string): InstrumentEvent[] {
  const { link, far } = memoryLinkPair('board');
  const events: InstrumentEvent[] = [];
  const options = { format: 'json', fields };
  const emit = (event: InstrumentEvent): void => void events.push(event);
  const channels = textLines.channelsOf(options);
  textLines.start({ instrument: 'board', link, channels, options, clock: manualClock(), emit });
  far.send(Buffer.from(`\n${text}\n`));
  return events;
}

describe('text-lines with format json', () => {
  it.each([
    ['{"cases":{"lamps":41.3},"u":5012,"at":7}', ['lamps.case 41.3 degC', 'logic.volts 5.012 V']],
    ['{"cases.lamps":41.3}', ['lamps.case 41.3 degC']],
    ['{"u":"OL"}', ['logic.volts overload V']],
    ['{"u":"5.01 V"}', ['logic.volts 5.01 V']],
    ['{"u":"5010"}', ['logic.volts 5.01 V']],
    ['{"u":null}', ['logic.volts not-a-number V']],
    ['{"u":1e999}', ['logic.volts out-of-range V']],
  ])('reads %s', (line, readings) => {
    const events = print(FIELDS, line);
    expect(readingsOf(events)).toEqual(readings);
    expect(faultsOf(events)).toEqual([]);
  });

  it.each([
    ['{"u":5012', 'a line that is not a JSON object'],
    ['[5012]', 'a line that is not a JSON object'],
    ['{"u":true}', 'u holds no number'],
    ['{"u":{"mean":5}}', 'u holds no number'],
    ['{"cases":7}', 'a JSON object with none of the fields'],
    ['{"rpm":900}', 'a JSON object with none of the fields'],
  ])('reads nothing in %s', (line, why) => {
    const events = print(FIELDS, line);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(`not-understood: ${why}`);
  });

  it('takes nothing from an object’s own making', () => {
    expect(readingsOf(print({ 'constructor.length': '{a} V' }, '{"u":1}'))).toEqual([]);
  });
});

/** Prints an object every 100 ms; its values never come twice. */
function board({ clock, say, promise }: DeviceSurroundings, key: string): GoodDevice {
  let lines = 0;
  let cancel: (() => void) | null = null;
  function printNext(): void {
    lines += 1;
    const lamps = (41 + lines / 1000).toFixed(3);
    promise('lamps.case', Number(lamps));
    cancel = clock.after(100, printNext);
    say(`{"${key}": ${lamps}}\r\n`);
  }
  return {
    wake: () => void (cancel ??= clock.after(100, printNext)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

const options = { format: 'json', fields: { t1: '{lamps.case} C' } };

driverContract({
  driver: textLines,
  options,
  channels: textLines.channelsOf(options),
  device: (around) => board(around, 't1'),
  otherDevice: (around) => board(around, 'rpm'),
  otherDeviceFault: 'not-understood',
  longestFrameBytes: '{"t1": 41.001}\r\n'.length,
});
