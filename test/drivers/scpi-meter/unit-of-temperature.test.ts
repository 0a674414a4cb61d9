import { describe, expect, it } from 'vitest';
import type { ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf } from '../events.js';

const CASE: ChannelSpec = { name: 'lamps.case', measures: 'temperature' };
const VOLTS: ChannelSpec = { name: 'lamps.volts', measures: 'dc-volts' };

/** A meter with a probe at 41.5 degrees C that is set to degrees F; 106.7 by the definition of the unit. */
function fahrenheitMeter(options: {
  knowsUnit: boolean;
  channels?: readonly ChannelSpec[];
  intervalMs?: number;
}) {
  const { knowsUnit, channels = [CASE], intervalMs = 500 } = options;
  const clock = manualClock();
  const { link, far } = memoryLinkPair('meter');
  const events: InstrumentEvent[] = [];
  const heard: string[] = [];
  const queue: string[] = [];
  let unit = 'F';
  far.onBytes((bytes) => {
    const message = Buffer.from(bytes).toString().trim();
    heard.push(message);
    if (message.startsWith('UNIT')) {
      if (knowsUnit) unit = message.slice(-1);
      else queue.push('-113,"Undefined header"');
    }
    const answer = new Map([
      ['*IDN?', 'SIGNAL CABIN,BENCH METER,0,1.0'],
      ['SYST:ERR?', message === 'SYST:ERR?' ? (queue.shift() ?? '+0,"No error"') : ''],
      ['READ?', unit === 'C' ? '41.5' : '106.7'],
      ['FUNC?', '"TEMP"'],
    ]).get(message);
    if (answer !== undefined) far.send(Buffer.from(`${answer}\n`));
  });
  scpiMeter.start({
    instrument: 'meter',
    link,
    channels,
    options: { interval_ms: intervalMs },
    clock,
    emit: (event) => void events.push(event),
  });
  return { clock, events, heard };
}

describe('the unit of a meter that measures temperature', () => {
  it('is set to degrees C before the first reading', () => {
    const { clock, events } = fahrenheitMeter({ knowsUnit: true });
    clock.advance(5000);
    expect(new Set(readingsOf(events))).toEqual(new Set(['lamps.case 41.5 degC']));
    expect(faultsOf(events)).toEqual([]);
  });

  it('is left alone where no temperature is measured', () => {
    const { clock, heard } = fahrenheitMeter({ knowsUnit: true, channels: [VOLTS] });
    clock.advance(5000);
    expect(heard.filter((message) => message.startsWith('UNIT'))).toEqual([]);
  });

  it('is its own where it has no such setting, which is told once', () => {
    const { clock, events } = fahrenheitMeter({ knowsUnit: false, intervalMs: 4000 });
    clock.advance(60_000);
    expect(readingsOf(events).length).toBeGreaterThan(10);
    expect(faultsOf(events)).toEqual([
      'instrument-error: -113,"Undefined header" before the first reading, UNIT:TEMP C having been sent',
    ]);
  });
});
