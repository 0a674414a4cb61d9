import { deepEqual, equal, ok } from 'node:assert/strict';
import { bytesInUse } from './memory-use.js';
import { randomBytes } from './random-bytes.js';
import { AS_IT_IS, Stage, type DriverContract } from './stage.js';

export { gist } from './stage.js';
export type { DeviceSurroundings, DriverContract, GoodDevice } from './stage.js';

/** One thing that every driver must do, for any test runner. */
export interface ContractCase {
  readonly title: string;
  /** Throws, or rejects, with an AssertionError where the driver doesn't. Each run starts the driver anew. */
  readonly run: () => void | Promise<void>;
}

/** All that every driver must do, whatever it speaks. */
export function contractCases(contract: DriverContract): readonly ContractCase[] {
  const { longestFrameBytes } = contract;
  const cuts = Array.from({ length: longestFrameBytes - 1 }, (_, index) => index + 1);
  const onStage = (): Stage => new Stage(contract);
  const cases: ContractCase[] = [];
  const add = (title: string, run: ContractCase['run']): void => void cases.push({ title, run });

  add('reads a good device and says so once', () => {
    const stage = onStage();
    stage.expectGoodReadingsSoon();
    deepEqual(stage.states(), ['open', 'reading']);
    expectNoFault(stage);
  });

  add('bears a minute of silence', () => {
    const stage = onStage();
    stage.clock.advance(60_000);
    deepEqual(stage.readings, []);
    expectFewerThan(130, stage.events.length, 'events');
    stage.expectGoodReadingsSoon();
  });

  for (const seed of [1, 2, 3, 4, 5])
    add(`bears junk between good frames (seed ${seed})`, () => {
      const stage = onStage();
      stage.wire = (frame, index) =>
        index % 3 === 1 ? [randomBytes(seed * 1000 + index, 400), frame] : [frame];
      stage.device.wake();
      stage.clock.advance(20_000);
      stage.expectNoWrongNumber();
      stage.expectGoodReadingsSoon();
    });

  for (const seed of [1, 2, 3])
    add(`bears a long burst of junk (seed ${seed})`, () => {
      const stage = onStage();
      stage.far.send(randomBytes(seed, 200_000));
      deepEqual(stage.readings, []);
      stage.expectGoodReadingsSoon();
    });

  add('reads frames torn at every byte boundary', () => {
    for (const cut of cuts) {
      const stage = onStage();
      stage.wire = (frame) => [frame.subarray(0, cut), frame.subarray(cut)];
      stage.device.wake();
      stage.clock.advance(5000);
      stage.expectNoWrongNumber();
      expectMoreThan(3, stage.readings.length, `readings, cut after ${cut}`);
      expectNoFault(stage);
    }
  });

  add('reads frames that come byte by byte', () => {
    const stage = onStage();
    stage.wire = (frame) => Array.from(frame, (byte) => Uint8Array.of(byte));
    stage.device.wake();
    stage.clock.advance(5000);
    stage.expectNoWrongNumber();
    expectMoreThan(3, stage.readings.length, 'readings');
  });

  add('bears two frames in one chunk with another cut, wherever it is', () => {
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

  add('bears a device that drips a byte at a time', () => {
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

  add('bears a device that speaks at ten times its rate', () => {
    const stage = onStage();
    stage.haste = 10;
    stage.device.wake();
    stage.clock.advance(20_000);
    stage.expectNoWrongNumber();
    expectMoreThan(3, stage.readings.length, 'readings');
    expectNoFault(stage);
    stage.haste = 1;
    stage.expectGoodReadingsSoon();
  });

  add('bears jumps of the clock at any moment', () => {
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

  add('holds no more after 64 megabytes of anything than before', () => {
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
    const grown = (bytesInUse() - before) / 1024 / 1024;
    ok(grown < 4, `${grown} megabytes more are held`);
  });

  add('gives no reading from a frame whose end never comes, wherever it is cut', () => {
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

  add('never reads two frames that lost the line end between them as one', () => {
    const stage = onStage();
    const withoutEnd = (frame: Uint8Array): Uint8Array => frame.subarray(0, frame.length - 1);
    stage.wire = (frame, index) => [index % 3 === 2 ? withoutEnd(frame) : frame];
    stage.device.wake();
    stage.clock.advance(30_000);
    stage.expectNoWrongNumber();
    stage.expectGoodReadingsSoon();
  });

  add('bears other lines in the same chunk before and after a frame', () => {
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
    expectMoreThan(3, stage.readings.length, 'readings');
    stage.expectGoodReadingsSoon();
  });

  add('drops and counts a line without an end', () => {
    const stage = onStage();
    const block = Buffer.alloc(64 * 1024, 'A');
    for (let sent = 0; sent < 64; sent += 1) stage.far.send(block);
    stage.clock.advance(1000);
    equal(stage.faults(contract.endlessFault ?? 'line-too-long'), 1);
    stage.far.send(Buffer.from('\n'));
    stage.expectGoodReadingsSoon();
  });

  for (const [named, bad] of [
    ['a NUL', 0x00],
    ['a byte that is not UTF-8', 0xff],
  ] as const)
    add(`drops and counts frames with ${named} in them, wherever it stands`, () => {
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

  add('turns a flood of lines into a handful of events', () => {
    const stage = onStage();
    const flood = Buffer.from('nothing that anybody understands 17\r\n'.repeat(1000));
    for (let sent = 0; sent < 200; sent += 1) stage.far.send(flood);
    deepEqual(stage.readings, []);
    expectFewerThan(20, stage.events.length, 'events');
    stage.clock.advance(1000);
    expectFewerThan(25, stage.events.length, 'events');
    stage.expectGoodReadingsSoon();
  });

  add(
    'bears an unplug in the middle of a frame, wherever it is cut, with the rest coming after the replug',
    () => {
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
        const after = stage.states().slice(2);
        for (const state of ['lost', 'open', 'reading'])
          ok(after.includes(state), `never ${state}: ${after.join()}`);
      }
    },
  );

  add('does not read another device that answers in its place', () => {
    const stage = onStage();
    stage.expectGoodReadingsSoon();
    const before = stage.readings.length;
    stage.far.unplug('pulled out');
    stage.replaceDevice(contract.otherDevice);
    stage.far.plugIn('the same path');
    stage.clock.advance(20_000);
    equal(stage.readings.length, before);
    expectMoreThan(0, stage.faults(contract.otherDeviceFault), contract.otherDeviceFault);
    stage.replaceDevice(contract.device);
    stage.clock.advance(1000); // what the other device left behind
    stage.expectGoodReadingsSoon();
  });

  add('says nothing more once it is stopped', async () => {
    const stage = onStage();
    stage.expectGoodReadingsSoon();
    await stage.stop();
    equal(stage.states().at(-1), 'closed');
    const told = stage.events.length;
    stage.far.send(Buffer.from('late line\n'));
    stage.clock.advance(60_000);
    equal(stage.events.length, told);
  });

  return cases;
}

function expectNoFault(stage: Stage): void {
  deepEqual(
    stage.events.filter((event) => event.kind === 'fault'),
    [],
  );
}

function expectMoreThan(least: number, found: number, what: string): void {
  ok(found > least, `found ${found} ${what}; more than ${least} are wanted`);
}

function expectFewerThan(most: number, found: number, what: string): void {
  ok(found < most, `found ${found} ${what}; fewer than ${most} are wanted`);
}
