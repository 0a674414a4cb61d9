import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { modbusRtu } from '../../../drivers/modbus-rtu/modbus-rtu.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, readingsOf, statesOf } from '../events.js';
import { randomBytes } from '../random-bytes.js';
import { sealed } from './slave.js';
import { onStage, register } from './stage.js';

/** The registers of a device: address to content; exception 02 for all others. */
function holding(contents: Readonly<Record<number, number>>) {
  return (_: number, address: number, count: number): readonly number[] | number => {
    const asked = Array.from({ length: count }, (__, index) => contents[address + index]);
    return asked.every((value) => value !== undefined) ? asked : 2;
  };
}

const ONE = { registers: [register('lamps.case', 0, { scale: 0.1 })] };

describe('modbus-rtu', () => {
  it('reads several units on one line, each with the time of its last byte', () => {
    const options = {
      registers: [
        register('lamps.case', 0, { scale: 0.1 }),
        register('logic.case', 1, { scale: 0.1 }),
        register('reservoir.volts', 8, {
          unit: 17,
          read: 'input',
          type: 'float32',
          order: 'CDAB',
          measures: 'dc-volts',
        }),
      ],
    };
    const { clock, events, questions } = onStage(options, [
      { unit: 1, registers: holding({ 0: 413, 1: 0xffff }) },
      { unit: 17, registers: holding({ 8: 0x0000, 9: 0x41bc }) }, // 23.5 in IEEE 754
    ]);
    clock.advance(900);
    expect(readingsOf(events)).toEqual([
      'lamps.case 41.3 degC',
      'logic.case -0.1 degC',
      'reservoir.volts 23.5 V',
    ]);
    const times = events.flatMap((event) => (event.kind === 'reading' ? [event.atMs] : []));
    const asked = questions.filter(({ hex }) => !/^..01/.test(hex)).map(({ atMs }) => atMs);
    expect(times).toEqual([0, 0, 1].map((index) => (asked[index] ?? NaN) + 20));
    expect(statesOf(events)).toEqual(['open', 'reading']);
    expect(faultsOf(events)).toEqual([]);
  });

  it('asks in the frames of the standard, once an interval', () => {
    const { clock, questions } = onStage({ ...ONE, interval_ms: 400 }, [
      { unit: 1, registers: holding({ 0: 413 }) },
    ]);
    clock.advance(1300);
    // The marker, then three rounds. CRC worked outside.
    const read = '010300000001840a';
    expect(questions.map(({ hex }) => hex)).toEqual(['010100000001fdca', read, read, read, read]);
    const [, , second, third] = questions.map(({ atMs }) => atMs);
    expect((third ?? 0) - (second ?? 0)).toBeCloseTo(400, 6);
  });

  it('keeps 3.5 characters of silence between what was heard and the next question', () => {
    const options = { registers: [register('a', 0), register('b', 9)], baud: 1200 };
    const { clock, questions } = onStage(options, [{ unit: 1, registers: holding({ 0: 1, 9: 2 }) }]);
    clock.advance(500);
    const asked = questions.map(({ atMs }) => atMs);
    expect(asked[0]).toBeCloseTo(32.08, 2); // 3.5 x 11 bits at 1200 bit/s
    expect((asked[1] ?? 0) - (asked[0] ?? 0)).toBeCloseTo(20 + 32.08, 2);
    expect((asked[2] ?? 0) - (asked[1] ?? 0)).toBeCloseTo(20 + 32.08, 2);
  });

  it('names an exception and goes on reading the others', () => {
    const { clock, events } = onStage({ registers: [register('a', 7), register('b', 9)] }, [
      { unit: 1, registers: holding({ 9: 5 }) },
    ]);
    clock.advance(900);
    expect(readingsOf(events)).toEqual(['b 5 degC']);
    expect(faultsOf(events)).toEqual([
      'instrument-error: unit 1 refuses a from address 7: exception 02, illegal data address',
    ]);
  });

  it('asks one by one where a device refuses two registers at once', () => {
    const { clock, events } = onStage({ registers: [register('a', 0), register('b', 1)] }, [
      { unit: 1, registers: (_, address, count) => (count > 1 ? 3 : [address + 40]) },
    ]);
    clock.advance(1900);
    expect(readingsOf(events)).toEqual(['a 40 degC', 'b 41 degC']);
  });

  it('marks what cannot be a reading', () => {
    const float = { type: 'float32', measures: 'dc-volts' };
    const options = { registers: [register('a', 0, float), register('b', 2, float), register('c', 4)] };
    const { clock, events } = onStage(options, [
      { unit: 1, registers: holding({ 0: 0x7fc0, 1: 0, 2: 0x7f80, 3: 0, 4: 0x8000 }) },
    ]);
    clock.advance(900);
    expect(readingsOf(events)).toEqual(['a not-a-number V', 'b overload V', 'c out-of-range degC']);
  });

  it('reads through an adapter that echoes, and past stray bytes around an answer', () => {
    const question = sealed([1, 3, 0, 0, 0, 1]);
    const { clock, events } = onStage(ONE, [{ unit: 1, registers: holding({ 0: 413 }) }], (frame) => [
      Buffer.concat([question, Uint8Array.of(0), frame, Uint8Array.of(0xff)]),
    ]);
    clock.advance(900);
    expect(readingsOf(events)).toEqual(['lamps.case 41.3 degC']);
    expect(faultsOf(events)).toEqual([expect.stringMatching(/^not-understood: stray bytes/)]);
  });

  it('says who does not answer, and reads the others on time meanwhile', () => {
    const options = {
      registers: [register('a', 0), register('b', 0, { unit: 2 }), register('c', 0, { unit: 3 })],
    };
    const { clock, events } = onStage(options, [{ unit: 1, registers: holding({ 0: 5 }) }]);
    clock.advance(20_000);
    const times = events.flatMap((event) => (event.kind === 'reading' ? [event.atMs] : []));
    const gaps = times.slice(1).map((atMs, index) => atMs - (times[index] ?? 0));
    expect(times.length).toBeGreaterThan(12);
    expect(Math.max(...gaps)).toBeLessThan(1000 + 1.2 * 500); // the interval and at most one time-out
    expect(faultsOf(events)[0]).toMatch(/^no-answer: unit [23], function 3, .* within 500 ms/);
  });

  it('does not let an interval too short for the line keep a silent unit from being tried again', () => {
    const options = {
      registers: [register('a', 0), register('b', 0, { unit: 2 })],
      interval_ms: 50,
      timeout_ms: 100,
    };
    let awake = false;
    const { clock, events } = onStage(options, [
      { unit: 1, registers: holding({ 0: 5 }), takesMs: () => 60 },
      { unit: 2, registers: holding({ 0: 6 }), takesMs: () => (awake ? 60 : null) },
    ]);
    clock.advance(10_000);
    awake = true;
    const before = events.length;
    clock.advance(4000);
    expect(readingsOf(events.slice(before))).toContain('b 6 degC');
  });

  it('refuses an answer by another unit, and says so', () => {
    const { clock, events } = onStage(ONE, [{ unit: 1, registers: holding({ 0: 413 }) }], (frame) => [
      sealed([9, ...frame.subarray(1, -2)]),
    ]);
    clock.advance(5000);
    expect(readingsOf(events)).toEqual([]);
    expect(faultsOf(events)[0]).toMatch(/^wrong-device: .*answered by unit 9/);
  });

  it('says which channels the map does not have, and never asks for them', () => {
    const clock = manualClock();
    const { link, far } = memoryLinkPair('line');
    const asked: Uint8Array[] = [];
    far.onBytes((bytes) => void asked.push(bytes));
    const events: Parameters<typeof readingsOf>[0][number][] = [];
    modbusRtu.start({
      instrument: 'line',
      link,
      channels: [
        { name: 'lamps.case', measures: 'ohms' },
        { name: 'ghost', measures: 'ohms' },
      ],
      options: ONE,
      clock,
      emit: (event) => void events.push(event),
    });
    clock.advance(60_000);
    expect(faultsOf(events)).toEqual([
      expect.stringMatching(/register of lamps\.case measures temperature, the bench file says ohms/),
      expect.stringMatching(/no register has the channel ghost/),
    ]);
    expect(asked).toEqual([]);
  });

  it('gives no reading from junk (seeds 1 to 20)', () => {
    for (let seed = 1; seed <= 20; seed += 1) {
      const { clock, events, far } = onStage(ONE, []);
      for (let part = 0; part < 50; part += 1) {
        clock.advance(7);
        far.send(randomBytes(1000 * seed + part, 97));
      }
      expect(readingsOf(events)).toEqual([]);
    }
  });

  it('reads the same however the answers are cut (seed 3)', () => {
    const read = (sizes: readonly number[]): readonly string[] => {
      let at = 0;
      const cut = (frame: Uint8Array): Uint8Array[] => {
        const chunks: Uint8Array[] = [];
        for (let from = 0; from < frame.length; at += 1) {
          const size = sizes[at % sizes.length] ?? 1;
          chunks.push(frame.subarray(from, from + size));
          from += size;
        }
        return chunks;
      };
      const { clock, events } = onStage(ONE, [{ unit: 1, registers: holding({ 0: 413 }) }], cut);
      clock.advance(5000);
      return [...readingsOf(events), ...faultsOf(events)];
    };
    const whole = read([256]);
    expect(whole).toEqual(Array.from({ length: 5 }, () => 'lamps.case 41.3 degC'));
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1 }), (sizes) => {
        expect(read(sizes)).toEqual(whole);
      }),
      { seed: 3 },
    );
  });
});
