import { describe, expect, it } from 'vitest';
import type { ChannelSpec, InstrumentEvent } from '../../../drivers/driver.js';
import { lcdFrames } from '../../../drivers/lcd-frames/lcd-frames.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf, statesOf } from '../events.js';
import { meterFrame, type MeterSymbol } from './meter-frames.js';

const VOLTS: ChannelSpec = { name: 'logic.volts', measures: 'dc-volts' };
const CASE: ChannelSpec = { name: 'logic.case', measures: 'temperature' };

function startWith(channels: readonly ChannelSpec[], options: unknown = {}) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('meter');
  const events: InstrumentEvent[] = [];
  lcdFrames.start({
    instrument: 'meter',
    link,
    channels,
    options,
    clock,
    emit: (event) => void events.push(event),
  });
  const show = (characters: string, ...symbols: readonly MeterSymbol[]): void => {
    clock.advance(1000);
    far.send(meterFrame(characters, ...symbols));
  };
  return { clock, far, events, show };
}

describe('lcd-frames', () => {
  it('reads what the display shows', () => {
    const { events, show } = startWith([VOLTS]);
    show('5012', 'V', 'DC', '/1000');
    show('4987', 'V', 'DC', '/1000', 'minus');
    show(' 0L ', 'V', 'DC');
    expect(readingsOf(events)).toEqual([
      'logic.volts 5.012 V',
      'logic.volts -4.987 V',
      'logic.volts overload V',
    ]);
    expect(events.find((event) => event.kind === 'reading')).toMatchObject({ atMs: 1000 });
    expect(statesOf(events)).toEqual(['open', 'reading']);
    expect(faultsOf(events)).toEqual([]);
  });

  it('reads each channel while the dial is on it, and says when it is on none', () => {
    const { events, show } = startWith([VOLTS, CASE], { celsius_symbol: 2 });
    show('0413', '/10', 'free2');
    show('0250', 'A', 'DC', '/1000');
    show('5012', 'V', 'DC', '/1000');
    expect(readingsOf(events)).toEqual(['logic.case 41.3 degC', 'logic.volts 5.012 V']);
    expect(faultsOf(events)).toEqual([
      expect.stringMatching(/shows dc-amps, the bench file has dc-volts, temperature; turn its dial/),
    ]);
    expect(statesOf(events)).toEqual(['open', 'reading', 'open', 'reading']);
  });

  it('gives no number on HOLD, and says how to go on', () => {
    const { events, show } = startWith([VOLTS]);
    show('5012', 'V', 'DC', '/1000', 'HOLD');
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)).toEqual([
      expect.stringMatching(/^instrument-error: .*HOLD is on; switch it off/),
    ]);
  });

  it('tells a low battery once each time it comes, and reads on', () => {
    const { events, show } = startWith([VOLTS]);
    for (const battery of [true, true, false, true]) {
      show('5012', 'V', 'DC', '/1000', ...(battery ? (['battery'] as const) : []));
    }
    expect(readingsOf(events)).toHaveLength(4);
    expect(faultsOf(events).filter((fault) => /battery is low/.test(fault))).toHaveLength(2);
  });

  it('counts torn frames and unknown bars', () => {
    const { clock, events, far, show } = startWith([VOLTS]);
    far.send(meterFrame('5012', 'V', 'DC').subarray(0, 9));
    show('5-12', 'V', 'DC', '/1000');
    clock.advance(1000); // faults of one kind are told once a second
    expect(readingsOf(events)).toEqual([]);
    const faults = events.filter((event) => event.kind === 'fault');
    expect(faults.at(-1)).toMatchObject({ code: 'not-understood', count: 2 });
  });

  it('does not join a frame from before an unplug with one from after it', () => {
    const { events, far, show } = startWith([VOLTS]);
    const frame = meterFrame('5012', 'V', 'DC', '/1000');
    far.send(frame.subarray(0, 8));
    far.unplug('pulled out');
    far.plugIn('meter');
    far.send(frame.subarray(8));
    expect(readingsOf(events)).toEqual([]);
    show('5012', 'V', 'DC', '/1000');
    expect(readingsOf(events)).toEqual(['logic.volts 5.012 V']);
  });

  it.each([
    [{}, []],
    [{ layout: 'fourteen-byte', celsius_symbol: 4, interval_ms: 500 }, []],
    [{ layout: 'toString' }, ['layout']],
    [{ celsius_symbol: 0 }, ['celsius_symbol']],
    [{ celsius_symbol: 1.5, interval_ms: 1 }, ['celsius_symbol', 'interval_ms']],
  ])('has with %j problems at %j', (options, keys) => {
    expect(lcdFrames.checkOptions(options).map(({ key }) => key)).toEqual(keys);
  });
});
