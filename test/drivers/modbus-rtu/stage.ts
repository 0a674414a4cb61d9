import type { InstrumentEvent, RunningInstrument } from '../../../drivers/driver.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../../drivers/links/memory.js';
import { modbusRtu } from '../../../drivers/modbus-rtu/modbus-rtu.js';
import { manualClock, type ManualClock } from '../../manual-clock.js';
import { slave, type SlaveOptions } from './slave.js';

export interface Stage {
  readonly clock: ManualClock;
  readonly far: MemoryFarEnd;
  readonly events: InstrumentEvent[];
  readonly running: RunningInstrument;
  /** Every question heard, in hex, with the time. */
  readonly questions: { readonly atMs: number; readonly hex: string }[];
}

/** The driver over an in-memory line with these devices on it. `wire` may change what a device says. */
export function onStage(
  options: unknown,
  devices: readonly Omit<SlaveOptions, 'clock' | 'say'>[],
  wire: (frame: Uint8Array) => readonly Uint8Array[] = (frame) => [frame],
): Stage {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('line');
  const events: InstrumentEvent[] = [];
  const questions: { atMs: number; hex: string }[] = [];
  const say = (frame: Uint8Array): void => wire(frame).forEach((chunk) => far.send(chunk));
  const slaves = devices.map((device) => slave({ ...device, clock, say }));
  far.onBytes((question) => {
    questions.push({ atMs: clock.nowMs(), hex: Buffer.from(question).toString('hex') });
    slaves.forEach((device) => device.hear(question));
  });
  const running = modbusRtu.start({
    instrument: 'line',
    link,
    channels: modbusRtu.channelsOf(options),
    options,
    clock,
    emit: (event) => void events.push(event),
  });
  return { clock, far, events, questions, running };
}

/** A register of the signal cabin's line as a bench file says it. */
export function register(channel: string, address: number, more: object = {}): object {
  return { channel, unit: 1, read: 'holding', address, type: 'int16', measures: 'temperature', ...more };
}
