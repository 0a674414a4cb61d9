import { describe, expect, it } from 'vitest';
import type { ChannelSpec, Driver, FaultCode, InstrumentEvent } from '../../drivers/driver.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { manualClock, type ManualClock } from '../manual-clock.js';
import { randomBytes } from './random-bytes.js';

/** How a frame goes over the wire: as it is, cut up, damaged. `index` counts the frames said so far. */
export type Wire = (frame: Uint8Array, index: number) => readonly Uint8Array[];

/** What a device on the far end has to work with. */
export interface DeviceSurroundings {
  readonly clock: ManualClock;
  /** Sends one frame the way the wire has it at the time. */
  readonly say: (frame: string | Uint8Array) => void;
  /** Notes that the frame said next carries this value whole. */
  readonly promise: (channel: string, value: number) => void;
  /** Listens to what the driver sends. */
  readonly onHeard: (listener: (text: string) => void) => void;
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
}

interface Promised {
  readonly channel: string;
  readonly value: number;
}

const AS_IT_IS: Wire = (frame) => [frame];

/** A driver at work over an in-memory link under a clock that stands still until a test moves it. */
class Stage {
  readonly clock = manualClock();
  readonly events: InstrumentEvent[] = [];
  readonly promised: Promised[] = [];
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
    const emit = (event: InstrumentEvent): void => void this.events.push(event);
    const running = driver.start({
      instrument: 'under-test',
      link,
      channels,
      options,
      clock: this.clock,
      emit,
    });
    this.stop = () => running.stop();
  }

  #surroundings(): DeviceSurroundings {
    return {
      clock: this.clock,
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

  get readings(): Extract<InstrumentEvent, { kind: 'reading' }>[] {
    return this.events.filter((event) => event.kind === 'reading');
  }

  faults(code: FaultCode): number {
    const told = this.events.filter((event) => event.kind === 'fault' && event.code === code).at(-1);
    return told?.kind === 'fault' ? told.count : 0;
  }

  states(): string[] {
    return this.events.flatMap((event) => (event.kind === 'state' ? [event.state] : []));
  }

  /** Each reading is one that the device has promised, in the order of the promises and never twice. */
  expectNoWrongNumber(): void {
    let next = 0;
    for (const { channel, value } of this.readings) {
      const at = this.promised.findIndex((p, i) => i >= next && p.channel === channel && p.value === value);
      expect(at, `reading ${channel} ${value} was never sent, or came again`).toBeGreaterThanOrEqual(next);
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
    expect(this.frames, 'the device was never asked').toBeGreaterThan(before.frames);
    this.clock.advance(2000);
    expect(this.readings.length).toBeGreaterThan(before.readings);
    this.expectNoWrongNumber();
  }
}

/** Runs the tests that every driver must pass, whatever it speaks. */
export function driverContract(contract: DriverContract): void {
  const { driver, longestFrameBytes } = contract;
  const cuts = Array.from({ length: longestFrameBytes - 1 }, (_, index) => index + 1);
  const onStage = (): Stage => new Stage(contract);

  describe(`${driver.name} keeps the driver contract`, () => {
    it('reads a good device and says so once', () => {
      const stage = onStage();
      stage.expectGoodReadingsSoon();
      expect(stage.states()).toEqual(['open', 'reading']);
      expect(stage.events.filter((event) => event.kind === 'fault')).toEqual([]);
    });

    it('bears a minute of silence', () => {
      const stage = onStage();
      stage.clock.advance(60_000);
      expect(stage.readings).toEqual([]);
      expect(stage.events.length).toBeLessThan(130);
      stage.expectGoodReadingsSoon();
    });

    it.each([1, 2, 3, 4, 5])('bears junk between good frames (seed %i)', (seed) => {
      const stage = onStage();
      stage.wire = (frame, index) =>
        index % 3 === 1 ? [randomBytes(seed * 1000 + index, 400), frame] : [frame];
      stage.device.wake();
      stage.clock.advance(20_000);
      stage.expectNoWrongNumber();
      stage.expectGoodReadingsSoon();
    });

    it.each([1, 2, 3])('bears a long burst of junk (seed %i)', (seed) => {
      const stage = onStage();
      stage.far.send(randomBytes(seed, 200_000));
      expect(stage.readings).toEqual([]);
      stage.expectGoodReadingsSoon();
    });

    it('reads frames torn at every byte boundary', () => {
      for (const cut of cuts) {
        const stage = onStage();
        stage.wire = (frame) => [frame.subarray(0, cut), frame.subarray(cut)];
        stage.device.wake();
        stage.clock.advance(5000);
        stage.expectNoWrongNumber();
        expect(stage.readings.length, `cut after ${cut}`).toBeGreaterThan(3);
        expect(stage.events.filter((event) => event.kind === 'fault')).toEqual([]);
      }
    });

    it('reads frames that come byte by byte', () => {
      const stage = onStage();
      stage.wire = (frame) => Array.from(frame, (byte) => Uint8Array.of(byte));
      stage.device.wake();
      stage.clock.advance(5000);
      stage.expectNoWrongNumber();
      expect(stage.readings.length).toBeGreaterThan(3);
    });

    it('gives no reading from a frame whose end never comes, wherever it is cut', () => {
      for (const cut of cuts) {
        const stage = onStage();
        stage.wire = (frame, index) => (index % 4 === 3 ? [frame.subarray(0, cut)] : [frame]);
        stage.device.wake();
        stage.clock.advance(15_000);
        stage.wire = AS_IT_IS;
        stage.clock.advance(5000);
        stage.expectGoodReadingsSoon();
      }
    });

    it('never reads two frames that lost the line end between them as one', () => {
      const stage = onStage();
      const withoutEnd = (frame: Uint8Array): Uint8Array => frame.subarray(0, frame.length - 1);
      stage.wire = (frame, index) => [index % 3 === 2 ? withoutEnd(frame) : frame];
      stage.device.wake();
      stage.clock.advance(30_000);
      stage.expectNoWrongNumber();
      stage.expectGoodReadingsSoon();
    });

    it('bears other lines in the same chunk before and after a frame', () => {
      const stage = onStage();
      const greeting = Buffer.from('ready.\r\n');
      stage.wire = (frame, index) => [
        index % 11 === 0
          ? Buffer.concat([greeting, frame])
          : index % 11 === 6
            ? Buffer.concat([frame, greeting])
            : frame,
      ];
      stage.device.wake();
      stage.clock.advance(30_000);
      stage.expectNoWrongNumber();
      expect(stage.readings.length).toBeGreaterThan(3);
      stage.expectGoodReadingsSoon();
    });

    it('drops and counts a line without an end', () => {
      const stage = onStage();
      const block = Buffer.alloc(64 * 1024, 'A');
      for (let sent = 0; sent < 64; sent += 1) stage.far.send(block);
      stage.clock.advance(1000);
      expect(stage.faults(contract.endlessFault ?? 'line-too-long')).toBe(1);
      stage.far.send(Buffer.from('\n'));
      stage.expectGoodReadingsSoon();
    });

    it.each([
      ['a NUL', 0x00],
      ['a byte that is not UTF-8', 0xff],
    ])('drops and counts frames with %s in them, wherever it stands', (_, bad) => {
      for (const cut of cuts) {
        const stage = onStage();
        stage.wire = (frame, index) => {
          const spoilt = Buffer.concat([frame.subarray(0, cut), Uint8Array.of(bad), frame.subarray(cut)]);
          return [index % 6 === 5 && cut < frame.length ? spoilt : frame];
        };
        stage.device.wake();
        stage.clock.advance(20_000);
        stage.expectNoWrongNumber();
        stage.expectGoodReadingsSoon();
      }
    });

    it('turns a flood of lines into a handful of events', () => {
      const stage = onStage();
      const flood = Buffer.from('nothing that anybody understands 17\r\n'.repeat(1000));
      for (let sent = 0; sent < 200; sent += 1) stage.far.send(flood);
      expect(stage.readings).toEqual([]);
      expect(stage.events.length).toBeLessThan(20);
      stage.clock.advance(1000);
      expect(stage.events.length).toBeLessThan(25);
      stage.expectGoodReadingsSoon();
    });

    it('bears an unplug in the middle of a frame, wherever it is cut, with the rest coming after the replug', () => {
      for (const cut of cuts) {
        const stage = onStage();
        stage.expectGoodReadingsSoon();
        let rest: Uint8Array = new Uint8Array();
        stage.wire = (frame) => {
          rest = frame.subarray(cut);
          return [frame.subarray(0, cut)];
        };
        stage.clock.advance(1000);
        stage.far.unplug('pulled out');
        stage.clock.advance(3000);
        stage.far.plugIn('another path');
        stage.far.send(rest);
        stage.expectGoodReadingsSoon();
        expect(stage.states().slice(2)).toEqual(expect.arrayContaining(['lost', 'open', 'reading']));
      }
    });

    it('does not read another device that answers in its place', () => {
      const stage = onStage();
      stage.expectGoodReadingsSoon();
      const before = stage.readings.length;
      stage.far.unplug('pulled out');
      stage.replaceDevice(contract.otherDevice);
      stage.far.plugIn('the same path');
      stage.clock.advance(20_000);
      expect(stage.readings.length).toBe(before);
      expect(stage.faults(contract.otherDeviceFault)).toBeGreaterThan(0);
      stage.replaceDevice(contract.device);
      stage.clock.advance(1000); // what the other device left behind
      stage.expectGoodReadingsSoon();
    });

    it('says nothing more once it is stopped', async () => {
      const stage = onStage();
      stage.expectGoodReadingsSoon();
      await stage.stop();
      expect(stage.states().at(-1)).toBe('closed');
      const told = stage.events.length;
      stage.far.send(Buffer.from('late line\n'));
      stage.clock.advance(60_000);
      expect(stage.events.length).toBe(told);
    });
  });
}
