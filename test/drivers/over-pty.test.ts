import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { ChannelSpec, Driver, InstrumentEvent, RunningInstrument } from '../../drivers/driver.js';
import { serialLink } from '../../drivers/links/serial.js';
import { scpiMeter } from '../../drivers/scpi-meter/scpi-meter.js';
import { systemClock } from '../../drivers/system-clock.js';
import { textLines } from '../../drivers/text-lines/text-lines.js';
import { readingsOf, statesOf } from './events.js';
import { openPtyPair, type PtyPair } from './pty.js';

describe.skipIf(process.platform === 'win32')('drivers over a serial link', () => {
  let directory: string;
  let pty: PtyPair;
  let running: RunningInstrument;
  let events: InstrumentEvent[];
  let onEvent: () => void;

  beforeEach(async () => {
    directory = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
    pty = await openPtyPair(directory);
    events = [];
    onEvent = () => undefined;
  });

  afterEach(async () => {
    await running.stop();
    await pty.unplug();
    await rm(directory, { recursive: true });
  });

  function start(driver: Driver, channels: readonly ChannelSpec[], options: unknown): void {
    const clock = systemClock();
    const link = serialLink({ path: pty.devicePath, baud: 9600, clock });
    const emit = (event: InstrumentEvent): void => {
      events.push(event);
      onEvent();
    };
    running = driver.start({ instrument: 'on the table', link, channels, options, clock, emit });
  }

  function until(sees: () => boolean): Promise<void> {
    return new Promise((resolve) => {
      onEvent = () => void (sees() && resolve());
      onEvent();
    });
  }

  it('reads lines, and again after an unplug in the middle of one', async () => {
    const pattern = 'T1: {lamps.case} C';
    start(textLines, textLines.channelsOf({ pattern }), { pattern });
    await until(() => statesOf(events).at(-1) === 'open');
    await pty.write('3 C\r\nT1: 41.3 C\r\nT1: 4');
    await until(() => statesOf(events).at(-1) === 'reading');
    await pty.unplug();
    await until(() => statesOf(events).includes('lost'));
    await pty.replug();
    await until(() => statesOf(events).at(-1) === 'open');
    await pty.write('2.0 C\r\nT1: 41.7 C\r\n');
    await until(() => statesOf(events).at(-1) === 'reading');
    await until(() => readingsOf(events).length === 2);
    expect(readingsOf(events)).toEqual(['lamps.case 41.3 degC', 'lamps.case 41.7 degC']);
  });

  it('asks a meter, and again after an unplug', async () => {
    const answers = new Map([
      ['*IDN?', 'SIGNAL CABIN,BENCH METER,0,1.0'],
      ['SYST:ERR?', '0,"No error"'],
      ['READ?', '+1.20340000E+01'],
    ]);
    pty.onData((bytes) => {
      const asked = bytes.toString().split('\n');
      for (const answer of asked.flatMap((question) => answers.get(question) ?? []))
        void pty.write(`${answer}\r\n`);
    });
    start(scpiMeter, [{ name: 'lamps.volts', measures: 'dc-volts' }], { interval_ms: 50 });
    await until(() => readingsOf(events).length === 2);
    await pty.unplug();
    await until(() => statesOf(events).includes('lost'));
    const before = readingsOf(events).length;
    await pty.replug();
    await until(() => readingsOf(events).length === before + 2);
    expect(new Set(readingsOf(events))).toEqual(new Set(['lamps.volts 12.034 V']));
  });

  it('asks a meter that echoes what it hears and waits for a CR', async () => {
    const answers = new Map([
      ['*IDN?', 'SIGNAL CABIN BENCH METER'],
      ['SYST:ERR?', '0,"No error"'],
      ['READ?', '+1.20340000E+01'],
    ]);
    let input = '';
    pty.onData((bytes) => {
      void pty.write(bytes);
      const messages = (input + bytes.toString()).split('\r');
      input = messages.pop() ?? '';
      for (const answer of messages.flatMap((message) => answers.get(message.trim()) ?? []))
        void pty.write(`${answer}\r`);
    });
    const options = { interval_ms: 50, timeout_ms: 500, first_commands: ['SYST:REM'] };
    start(scpiMeter, [{ name: 'lamps.volts', measures: 'dc-volts' }], options);
    await until(() => readingsOf(events).length === 3);
    expect(new Set(readingsOf(events))).toEqual(new Set(['lamps.volts 12.034 V']));
  });
});
