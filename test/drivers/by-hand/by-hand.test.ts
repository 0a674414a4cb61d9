import { describe, expect, it } from 'vitest';
import { byHand, typedLine } from '../../../drivers/by-hand/by-hand.js';
import type { InstrumentEvent } from '../../../drivers/driver.js';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { manualClock } from '../../manual-clock.js';
import { driverContract, type DeviceSurroundings, type GoodDevice } from '../contract.js';
import { faultsOf, readingsOf } from '../events.js';

const channels = [
  { name: 'volts', measures: 'dc-volts' },
  { name: 'case', measures: 'temperature' },
] as const;

function typing(...lines: readonly (readonly [channel: string, typed: string])[]): InstrumentEvent[] {
  const { link, far } = memoryLinkPair('typed by hand');
  const events: InstrumentEvent[] = [];
  const emit = (event: InstrumentEvent): void => void events.push(event);
  byHand.start({ instrument: 'meter', link, channels, options: {}, clock: manualClock(), emit });
  for (const [channel, typed] of lines) far.send(typedLine(channel, typed));
  return events;
}

describe('by-hand', () => {
  it('makes readings of what is typed, the very first one too', () => {
    const events = typing(['volts', '12,03'], ['volts', 'OL'], ['case', '41.5 C']);
    expect(readingsOf(events)).toEqual(['volts 12.03 V', 'volts overload V', 'case 41.5 degC']);
    expect(faultsOf(events)).toEqual([]);
  });

  it('makes none of a slip of the finger, nor of a channel that is not there', () => {
    const events = typing(['volts', '12.03.'], ['amps', '1'], ['volts', '5\nvolts\t7']);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)).toEqual([
      'not-understood: "12.03." is no reading in V; type a number such as 12.03, 45m or OL',
    ]);
  });
});

describe('what a person types', () => {
  it('is told apart before it goes anywhere', () => {
    expect(byHand.typed?.whyNot('12.03', 'dc-volts')).toBeNull();
    expect(byHand.typed?.whyNot('hot', 'temperature')).toMatch(/"hot" is no reading in degC; type a number/);
  });
});

/** A person who types a reading every 100 ms; no value comes twice. */
function person({ clock, say, promise }: DeviceSurroundings, channel: string): GoodDevice {
  let readings = 0;
  let cancel: (() => void) | null = null;
  function type(): void {
    readings += 1;
    const volts = (12 + readings / 1000).toFixed(3);
    promise('volts', Number(volts));
    cancel = clock.after(100, type);
    say(typedLine(channel, volts));
  }
  return {
    wake: () => void (cancel ??= clock.after(100, type)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

driverContract({
  driver: byHand,
  options: {},
  channels,
  device: (around) => person(around, 'volts'),
  otherDevice: (around) => person(around, 'amps'),
  otherDeviceFault: 'not-understood',
  longestFrameBytes: typedLine('volts', '12.001').length,
});
