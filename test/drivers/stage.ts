import { ok } from 'node:assert/strict';
import type { Capture, ChannelSpec, Driver, FaultCode, InstrumentEvent } from '../../drivers/driver.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { manualClock, type ManualClock } from '../manual-clock.js';

/** How a frame goes over the wire: as it is, cut up, damaged. `index` counts the frames said so far. */
export type Wire = (frame: Uint8Array, index: number) => readonly Uint8Array[];

/** What a device on the far end has to work with. */
export interface DeviceSurroundings {
  readonly clock: ManualClock;
  /** Sends one frame the way the wire has it at the time. */
  readonly say: (frame: string | Uint8Array) => void;
  /** Notes that the frame said next carries this value whole; of a capture the {@link gist}. */
  readonly promise: (channel: string, value: Measured) => void;
  /** Listens to what the driver sends. */
  readonly onHeard: (listener: (text: string) => void) => void;
}

/** A reading's value, or the gist of a capture; null for a reading with a mark. */
export type Measured = number | string | null;

/** All that a capture says, short: two captures with one gist are the same. */
export function gist(capture: Omit<Capture, 'atMs' | 'channel' | 'unit' | 'acquisition'>): string {
  const { attenuation, coupling, offset, samples, scale, startSeconds, stepSeconds } = capture;
  const values = Array.from(samples, (sample) => (sample * scale + offset).toPrecision(9));
  return [startSeconds, stepSeconds, coupling, attenuation, ...values].join(' ');
}

/** A device that keeps to its protocol while awake and says nothing while asleep. */
export interface GoodDevice {
  wake(): void;
  sleep(): void;
}

export interface DriverContract {
  readonly driver: Driver;
  readonly options: unknown;
  readonly channels: readonly ChannelSpec[];
  /** Makes the device; each value that it sends must differ from all others. Asleep at first. */
  readonly device: (around: DeviceSurroundings) => GoodDevice;
  /** Makes another device that has been put in this one's place, as awake as it likes. */
  readonly otherDevice: (around: DeviceSurroundings) => GoodDevice;
  /** What the driver counts when the other device speaks. */
  readonly otherDeviceFault: FaultCode;
  /** The longest frame that the device says. */
  readonly longestFrameBytes: number;
  /** What the driver counts, once, for megabytes of one letter within a second; `line-too-long` unless said. */
  readonly endlessFault?: FaultCode;
  /**
   * How many bits its frames' check has, where that alone tells damage: of 2 to the power of so many damaged frames one
   * looks sound.
   */
  readonly checkBits?: number;
  /** Of how many frames one may have something before it and one behind it for readings still to come; 11 unless said. */
  readonly disturbOneIn?: number;
}

interface ChannelValue {
  readonly channel: string;
  readonly value: Measured;
}

const MOST_UNDER_WAY = 8;
export const AS_IT_IS: Wire = (frame) => [frame];

/** A driver at work over an in-memory link under a clock that stands still until a test moves it. */
export class Stage {
  readonly clock = manualClock();
  readonly events: InstrumentEvent[] = [];
  readonly readings: ChannelValue[] = [];
  readonly promised: ChannelValue[] = [];
  /** How far the driver's clock is ahead of `clock`: it has jumped, and no timer has run meanwhile. */
  jumpedMs = 0;
  /** How many times as fast as it should the device is. */
  haste = 1;
  readonly far: MemoryFarEnd;
  readonly stop: () => Promise<void>;
  wire: Wire = AS_IT_IS;
  frames = 0;
  device: GoodDevice;
  #heard: (text: string) => void = () => undefined;

  constructor(contract: DriverContract) {
    const { driver, options, channels } = contract;
    const { link, far } = memoryLinkPair('contract link');
    this.far = far;
    far.onBytes((bytes) => this.#heard(Buffer.from(bytes).toString('latin1')));
    this.device = contract.device(this.#surroundings());
    const running = driver.start({
      instrument: 'under-test',
      link,
      channels,
      options,
      clock: {
        nowMs: () => this.clock.nowMs() + this.jumpedMs,
        after: (delayMs, action) => this.clock.after(delayMs, action),
      },
      emit: (event) => this.#take(event),
      onCapture: (capture) => this.readings.push({ channel: capture.channel, value: gist(capture) }),
    });
    this.stop = () => running.stop();
  }

  #surroundings(): DeviceSurroundings {
    return {
      clock: {
        ...this.clock,
        after: (delayMs, action) => this.clock.after(delayMs / this.haste, action),
      },
      say: (frame) => {
        for (const chunk of this.wire(Buffer.from(frame), this.frames++)) this.far.send(chunk);
      },
      promise: (channel, value) => void this.promised.push({ channel, value }),
      onHeard: (listener) => void (this.#heard = listener),
    };
  }

  replaceDevice(make: DriverContract['otherDevice']): void {
    this.device.sleep();
    this.device = make(this.#surroundings());
    this.device.wake();
  }

  #take(event: InstrumentEvent): void {
    this.events.push(event);
    if (event.kind === 'reading') this.readings.push({ channel: event.channel, value: event.value });
  }

  faults(code: FaultCode): number {
    const told = this.events.filter((event) => event.kind === 'fault' && event.code === code).at(-1);
    return told?.kind === 'fault' ? told.count : 0;
  }

  /** Forgets what has been told and promised so far, but for the last promises: these may be under way. */
  forget(): void {
    this.events.length = 0;
    this.readings.length = 0;
    this.promised.splice(0, this.promised.length - MOST_UNDER_WAY);
  }

  states(): string[] {
    return this.events.flatMap((event) => (event.kind === 'state' ? [event.state] : []));
  }

  /** Each reading is one that the device has promised, in the order of the promises and never twice. */
  expectNoWrongNumber(): void {
    let next = 0;
    for (const { channel, value } of this.readings) {
      const at = this.promised.findIndex((p, i) => i >= next && p.channel === channel && p.value === value);
      ok(at >= next, `reading ${channel} ${value} was never sent, or came again`);
      next = at + 1;
    }
  }

  /** With the device awake on a sound wire, its first whole frame is followed by good readings within two seconds. */
  expectGoodReadingsSoon(): void {
    this.wire = AS_IT_IS;
    this.device.wake();
    const before = { frames: this.frames, readings: this.readings.length };
    for (let waited = 0; this.frames === before.frames && waited < 10_000; waited += 10)
      this.clock.advance(10);
    ok(this.frames > before.frames, 'the device was never asked');
    this.clock.advance(2000);
    ok(this.readings.length > before.readings, 'no reading within two seconds of a good frame');
    this.expectNoWrongNumber();
  }
}
