import { describe, expect, it } from 'vitest';
import { bytesInUse } from './memory-use.js';
import { randomBytes } from './random-bytes.js';
import { AS_IT_IS, Stage, type DriverContract } from './stage.js';

export type { DeviceSurroundings, GoodDevice } from './stage.js';

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

    it('bears two frames in one chunk with another cut, wherever it is', () => {
      for (const cut of cuts) {
        const stage = onStage();
        let held: Uint8Array = new Uint8Array();
        stage.wire = (frame, index) => {
          if (index % 6 === 4) held = frame;
          const both = Buffer.concat([held, frame]);
          if (index % 6 === 5) return [both.subarray(0, cut), both.subarray(cut)];
          return index % 6 === 4 ? [] : [frame];
        };
        stage.device.wake();
        stage.clock.advance(15_000);
        stage.expectNoWrongNumber();
        stage.expectGoodReadingsSoon();
      }
    });

    it('bears a device that drips a byte at a time', () => {
      const stage = onStage();
      let drops: number[] = [];
      stage.wire = (frame) => {
        if (drops.length < 10_000) drops.push(...frame);
        return [];
      };
      stage.device.wake();
      for (let passed = 0; passed < 60_000; passed += 30) {
        const drop = drops.shift();
        if (drop !== undefined) stage.far.send(Uint8Array.of(drop));
        stage.clock.advance(30);
      }
      stage.expectNoWrongNumber();
      drops = [];
      stage.wire = AS_IT_IS;
      stage.clock.advance(5000); // what the half frame left behind
      stage.expectGoodReadingsSoon();
    });

    it('bears a device that speaks at ten times its rate', () => {
      const stage = onStage();
      stage.haste = 10;
      stage.device.wake();
      stage.clock.advance(20_000);
      stage.expectNoWrongNumber();
      expect(stage.readings.length).toBeGreaterThan(3);
      expect(stage.events.filter((event) => event.kind === 'fault')).toEqual([]);
      stage.haste = 1;
      stage.expectGoodReadingsSoon();
    });

    it('bears jumps of the clock at any moment', () => {
      for (let atMs = 100; atMs < 2000; atMs += 70) {
        const stage = onStage();
        stage.device.wake();
        stage.clock.advance(atMs);
        stage.jumpedMs += 3_600_000;
        stage.clock.advance(10_000);
        stage.expectNoWrongNumber();
        stage.expectGoodReadingsSoon();
      }
    });

    it('holds no more after 64 megabytes of anything than before', () => {
      const stage = onStage();
      stage.expectGoodReadingsSoon();
      stage.device.sleep();
      const junk = Buffer.from(randomBytes(64, 1024 * 1024));
      const block = Buffer.alloc(1024 * 1024, '#9000900000,1,2,A');
      stage.far.send(junk.subarray(0, 4096));
      stage.clock.advance(1000);
      const before = bytesInUse();
      for (let sent = 0; sent < 64; sent += 1) {
        stage.far.send(sent % 2 === 0 ? junk : block);
        stage.clock.advance(100);
      }
      expect((bytesInUse() - before) / 1024 / 1024).toBeLessThan(4);
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
      const { disturbOneIn = 11 } = contract;
      stage.wire = (frame, index) => [
        index % disturbOneIn === 0
          ? Buffer.concat([greeting, frame])
          : index % disturbOneIn === Math.ceil(disturbOneIn / 2)
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
