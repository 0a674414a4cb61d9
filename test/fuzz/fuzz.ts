import { ok } from 'node:assert/strict';
import { setImmediate } from 'node:timers/promises';
import fc from 'fast-check';
import { bytesInUse } from '../drivers/memory-use.js';
import type { SaidChunk } from './corpus.js';
import { randomBytes } from '../drivers/random-bytes.js';
import { AS_IT_IS, Stage, type DriverContract } from '../drivers/stage.js';

export interface FuzzRow {
  readonly driver: string;
  readonly chunks: number;
  readonly readings: number;
  readonly faults: number;
  /** Plans with a number that the device never sent: none, but for a check that damage gets through by chance. */
  readonly wrong: number;
  /** What the driver held more at the end than after the first plan. */
  readonly grownKilobytes: number;
}

/**
 * What happens to one chunk. `number` says where in it. None of it can turn a number into another good one without
 * the damage showing: a lost or changed digit within a line of text can't be seen by anybody.
 */
type Mishap =
  | {
      readonly what:
        'none' | 'torn' | 'byte by byte' | 'tail lost' | 'end lost' | 'NUL' | 'high byte' | 'lost';
    }
  | { readonly what: 'junk before'; readonly bytes: Uint8Array }
  | { readonly what: 'glued' | 'endless' };

/** What happens to one chunk of a recorded stream, where numbers may change: only no crash and no growth are asked. */
type Change = 'none' | 'flip' | 'drop' | 'insert' | 'double' | 'cut' | 'swap';

interface Plan {
  readonly mishaps: readonly { readonly mishap: Mishap; readonly number: number }[];
  readonly changes: readonly { readonly change: Change; readonly number: number }[];
}

/** A driver didn't bear a plan. */
export class FuzzFailure extends Error {
  override readonly name = 'FuzzFailure';
  readonly driver: string;
  readonly plan: number;
  /** What went over the wire in that plan. */
  readonly chunks: readonly SaidChunk[];

  constructor(driver: string, seed: number, plan: number, chunks: readonly SaidChunk[], cause: unknown) {
    super(`${driver}, seed ${seed}, plan ${plan} (fast-check seed ${seed + plan})`, { cause });
    this.driver = driver;
    this.plan = plan;
    this.chunks = chunks;
  }
}

const CHUNKS_A_PLAN = 200;
const MOST_EVENTS_A_PLAN = 2000;
const LONGEST_PLAN_MS = 400_000;

const number = fc.nat(1_000_000);
const mishap: fc.Arbitrary<Mishap> = fc.oneof(
  { weight: 8, arbitrary: fc.record({ what: fc.constant('none' as const) }) },
  {
    weight: 6,
    arbitrary: fc.record({
      what: fc.constantFrom(
        'torn' as const,
        'byte by byte',
        'tail lost',
        'end lost',
        'NUL',
        'high byte',
        'lost',
      ),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      what: fc.constant('junk before' as const),
      bytes: fc.uint8Array({ minLength: 1, maxLength: 40 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ what: fc.constantFrom('glued' as const, 'endless') }) },
);
const change = fc.constantFrom<Change>('none', 'none', 'flip', 'drop', 'insert', 'double', 'cut', 'swap');
const length = { minLength: CHUNKS_A_PLAN / 2, maxLength: CHUNKS_A_PLAN / 2 };
const plan: fc.Arbitrary<Plan> = fc.record({
  mishaps: fc.array(fc.record({ mishap, number }), length),
  changes: fc.array(fc.record({ change, number }), length),
});

/**
 * Puts a driver through at least `chunks` damaged chunks, half of them said by a device that goes on answering, half
 * from a recorded stream that was changed at random. After each plan of 200 it has to read again within two seconds.
 * Rejects with a {@link FuzzFailure}.
 */
export async function fuzzDriver(contract: DriverContract, chunks: number, seed: number): Promise<FuzzRow> {
  const recorded = recordStream(contract);
  const stage = new Stage(contract);
  const said = listenTo(stage);
  stage.expectGoodReadingsSoon();
  const sum = { chunks: 0, readings: 0, faults: 0, wrong: 0 };
  let baseBytes = 0;
  for (let turn = 0; sum.chunks < chunks; turn += 1) {
    const [given] = fc.sample(plan, { seed: seed + turn, numRuns: 1 });
    try {
      if (given === undefined) continue;
      const { passed, isWrong } = runPlan(
        stage,
        given,
        recorded,
        seed + turn,
        contract.checkBits !== undefined,
      );
      sum.chunks += passed;
      if (isWrong) sum.wrong += 1;
      ok(sum.wrong <= mostByChance(sum.chunks, contract.checkBits), `${sum.wrong} wrong numbers`);
    } catch (problem) {
      throw new FuzzFailure(contract.driver.name, seed, turn, said.splice(0), problem);
    }
    sum.readings += stage.readings.length;
    sum.faults += stage.events.filter((event) => event.kind === 'fault').length;
    stage.forget();
    said.length = 0;
    await setImmediate(); // settled writes are only let go between turns
    if (turn === 0) baseBytes = bytesInUse();
  }
  const grownKilobytes = Math.round((bytesInUse() - baseBytes) / 1024);
  return { driver: contract.driver.name, ...sum, grownKilobytes };
}

/** What goes over the wire from now on. */
function listenTo(stage: Stage): SaidChunk[] {
  const said: SaidChunk[] = [];
  const send = stage.far.send.bind(stage.far);
  let lastMs = stage.clock.nowMs();
  stage.far.send = (bytes) => {
    const nowMs = stage.clock.nowMs();
    said.push({ afterMs: nowMs - lastMs, bytes: new Uint8Array(bytes) });
    lastMs = nowMs;
    send(bytes);
  };
  return said;
}

/** Of damaged frames, fewer than there are chunks, one in 2^bits gets through: the mean and four times its root. */
function mostByChance(chunks: number, checkBits: number | undefined): number {
  if (checkBits === undefined) return 0;
  const mean = chunks / 2 ** checkBits;
  return Math.ceil(mean + 4 * Math.sqrt(mean));
}

function runPlan(
  stage: Stage,
  given: Plan,
  recorded: readonly Uint8Array[],
  seed: number,
  mayBeWrong: boolean,
): { readonly passed: number; readonly isWrong: boolean } {
  const said = throughMishaps(stage, given);
  const isWrong = mayBeWrong && hasWrongNumber(stage);
  // What got through is counted; what is to come is held to the promises again.
  if (isWrong) stage.forget();
  else stage.expectNoWrongNumber();
  settle(stage);
  const replayed = throughChanges(stage, given, recorded, seed);
  ok(stage.events.length < MOST_EVENTS_A_PLAN, `${stage.events.length} events`);
  for (const event of stage.events) {
    ok(
      event.kind !== 'reading' || event.value === null || Number.isFinite(event.value),
      'a number that is none',
    );
  }
  stage.forget();
  settle(stage);
  return { passed: said + replayed, isWrong };
}

function hasWrongNumber(stage: Stage): boolean {
  try {
    stage.expectNoWrongNumber();
    return false;
  } catch {
    return true;
  }
}

/** Good again: what was damaged before has had its time to be noticed, then readings have to come. */
function settle(stage: Stage): void {
  stage.wire = AS_IT_IS;
  stage.device.wake();
  stage.clock.advance(10_000);
  stage.expectGoodReadingsSoon();
}

function throughMishaps(stage: Stage, { mishaps }: Plan): number {
  let at = 0;
  let held: Uint8Array = new Uint8Array();
  stage.wire = (frame) => {
    const next = mishaps[at % mishaps.length];
    at += 1;
    const whole = held.length > 0 ? Buffer.concat([held, frame]) : frame;
    held = new Uint8Array();
    if (next?.mishap.what === 'glued') {
      held = whole.length < 500 ? whole : held;
      return [];
    }
    return next === undefined ? [whole] : damaged(whole, next.mishap, next.number % whole.length);
  };
  stage.device.wake();
  for (let passedMs = 0; at < mishaps.length && passedMs < LONGEST_PLAN_MS; passedMs += 50)
    stage.clock.advance(50);
  return at;
}

function damaged(frame: Uint8Array, mishap: Mishap, at: number): readonly Uint8Array[] {
  switch (mishap.what) {
    case 'torn':
      return [frame.subarray(0, at), frame.subarray(at)];
    case 'byte by byte':
      return Array.from(frame, (byte) => Uint8Array.of(byte));
    case 'tail lost':
      return [frame.subarray(0, at)];
    case 'end lost':
      return [frame.subarray(0, frame.length - 1)];
    case 'NUL':
      return [Buffer.concat([frame.subarray(0, at), Uint8Array.of(0), frame.subarray(at)])];
    case 'high byte':
      return [Buffer.concat([frame.subarray(0, at), Uint8Array.of(0xff), frame.subarray(at)])];
    case 'junk before':
      return [mishap.bytes, frame];
    case 'endless':
      return [Buffer.alloc(10_000, 'A'), frame];
    case 'lost':
      return [];
    case 'glued':
    case 'none':
      return [frame];
  }
}

/** What a device says in half a minute, as it went over the wire. */
function recordStream(contract: DriverContract): readonly Uint8Array[] {
  const stage = new Stage(contract);
  const recorded: Uint8Array[] = [];
  stage.wire = (frame) => {
    recorded.push(frame);
    return [frame];
  };
  stage.device.wake();
  stage.clock.advance(30_000);
  return recorded;
}

function throughChanges(
  stage: Stage,
  { changes }: Plan,
  recorded: readonly Uint8Array[],
  seed: number,
): number {
  stage.device.sleep();
  changes.forEach(({ change: how, number: at }, turn) => {
    const frame = recorded[(seed * 7 + turn) % recorded.length] ?? new Uint8Array();
    const other = recorded[at % recorded.length] ?? frame;
    stage.far.send(changed(frame, other, how, at));
    stage.clock.advance(at % 120);
  });
  return changes.length;
}

function changed(frame: Uint8Array, other: Uint8Array, how: Change, at: number): Uint8Array {
  const place = at % Math.max(1, frame.length);
  switch (how) {
    case 'none':
      return frame;
    case 'flip':
      return frame.map((byte, i) => (i === place ? byte ^ (1 << (at & 7)) : byte));
    case 'drop':
      return Buffer.concat([frame.subarray(0, place), frame.subarray(place + 1)]);
    case 'insert':
      return Buffer.concat([frame.subarray(0, place), randomBytes(at, 1 + (at % 9)), frame.subarray(place)]);
    case 'double':
      return Buffer.concat([frame, frame]);
    case 'cut':
      return frame.subarray(0, place);
    case 'swap':
      return Buffer.concat([frame.subarray(place), other.subarray(0, place)]);
  }
}
