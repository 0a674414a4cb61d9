import { describe, expect, it } from 'vitest';
import type { ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf } from '../events.js';

const VOLTS: ChannelSpec = { name: 'logic.volts', measures: 'dc-volts' };
const OTHER_VOLTS: ChannelSpec = { name: 'lamps.volts', measures: 'dc-volts' };

/** How a meter names its functions; SCPI-1999 volume 2, SENSe:FUNCtion, leaves out what may be left out. */
const NAMES = { dc: '"VOLT"', ac: '"VOLT:AC"', diode: '"DIOD"' };

/** A meter whose function a person can set by hand; it answers 10 ms after it was asked. */
function meterWithKeys(names: Readonly<Record<keyof typeof NAMES, string>> | null, channels = [VOLTS]) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('meter');
  const events: InstrumentEvent[] = [];
  const heard: string[] = [];
  const queue: string[] = [];
  const meter = { set: 'ac' as keyof typeof NAMES };
  const readings = { dc: '5.01', ac: '0.003', diode: '0.6' };
  function answerTo(message: string): string | undefined {
    if (message === 'CONF:VOLT:DC') meter.set = 'dc';
    if (message === '*IDN?') return 'SIGNAL CABIN,BENCH METER,0,1.0';
    if (message === '*CLS') queue.length = 0;
    if (message === 'SYST:ERR?') return queue.shift() ?? '+0,"No error"';
    if (message === 'READ?') return readings[meter.set];
    if (message === 'FUNC?' && names === null) queue.push('-113,"Undefined header"');
    return message === 'FUNC?' ? names?.[meter.set] : undefined;
  }
  far.onBytes((bytes) => {
    const message = Buffer.from(bytes).toString().trim();
    heard.push(message);
    clock.after(10, () => {
      const answer = answerTo(message);
      if (answer !== undefined) far.send(Buffer.from(`${answer}\n`));
    });
  });
  const emit = (event: InstrumentEvent): void => void events.push(event);
  scpiMeter.start({ instrument: 'meter', link, channels, options: {}, clock, emit });
  return { clock, events, heard, meter };
}

describe('a meter whose function is changed by hand', () => {
  const ways = [
    ['ac', 20_000],
    ['diode', 20_000],
    ['ac', 20_100],
    ['ac', 20_480],
    ['ac', 6_000],
  ] as const;

  it.each(ways)('shows no reading of %s, and is set back (after %i ms)', (set, afterMs) => {
    for (const channels of [[VOLTS], [VOLTS, OTHER_VOLTS]]) {
      const { clock, events, meter } = meterWithKeys(NAMES, channels);
      clock.advance(afterMs);
      const before = readingsOf(events).length;
      meter.set = set;
      clock.advance(3000);
      expect(readingsOf(events).length).toBeGreaterThan(before);
      const values = events.flatMap((event) => (event.kind === 'reading' ? [event.value] : []));
      expect(new Set(values)).toEqual(new Set([5.01]));
      expect(faultsOf(events)).toEqual([
        expect.stringContaining('is not shown: the meter was set by hand; it is set back: ') as string,
      ]);
    }
  });

  it.each(['VOLT:DC', '"VOLTAGE:DC"', 'VOLTage', 'DCV'])('knows its own function as %s', (dc) => {
    const { clock, events } = meterWithKeys({ ...NAMES, dc });
    clock.advance(20_000);
    expect(readingsOf(events).length).toBeGreaterThan(35);
    expect(faultsOf(events)).toEqual([]);
  });

  it('is seen within seconds when that was done right after the connection', () => {
    const { clock, events, meter } = meterWithKeys(NAMES);
    clock.advance(1000);
    meter.set = 'ac';
    clock.advance(6000);
    expect(faultsOf(events)).toHaveLength(1);
    expect(readingsOf(events).at(-1)).toBe('logic.volts 5.01 V');
  });
});

describe('a meter that does not say its function', () => {
  it('is asked for it once, and its readings go on without falling silent', () => {
    const { clock, events, heard } = meterWithKeys(null);
    clock.advance(60_000);
    expect(heard.filter((message) => message === 'FUNC?')).toHaveLength(1);
    const times = events.flatMap((event) => (event.kind === 'reading' ? [event.atMs] : []));
    const gaps = times.slice(1).map((atMs, index) => atMs - (times[index] ?? 0));
    expect(Math.max(...gaps)).toBeLessThan(1500); // a channel is stale after three intervals
    expect(faultsOf(events)).toEqual([]);
    const why = 'it does not say its function, so a change by hand is not seen';
    expect(events).toContainEqual(expect.objectContaining({ kind: 'state', state: 'open', why }));
  });

  it('is read on where it says its reading whatever it is asked', () => {
    const { clock, events, heard } = meterWithKeys({ ...NAMES, dc: '5.01' });
    clock.advance(20_000);
    expect(heard.filter((message) => message === 'FUNC?')).toHaveLength(1);
    expect(faultsOf(events)).toEqual([]);
  });
});
