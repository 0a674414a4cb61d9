import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { faultsOf } from '../events.js';
import { onStage, register } from './stage.js';

const FOUR = {
  registers: [register('a', 0), register('b', 10), register('c', 20), register('d', 30)],
  interval_ms: 300,
  timeout_ms: 100,
};
/** Sixty answers, which is several rounds. */
const ON_TIME = Array.from({ length: 60 }, () => 20);
/** Devices that know markers, each in its own way. */
const DEVICES = [{}, { hasCoils: true }, { hasCoils: true, ignores: [2] }, { hasCoils: true, ignores: [1] }];
const CHANNEL_AT: Readonly<Record<number, string>> = { 0: 'a', 10: 'b', 20: 'c', 30: 'd' };

/**
 * Runs with a device whose first answer is on time and whose others take as long as `delays` say, in turn. Its
 * registers hold a different number each time, so that every reading tells where it comes from and how old it is.
 */
function run(delays: readonly (number | null)[], device: object = {}, seconds = 60) {
  let asked = 0;
  const given = new Map<string, { channel: string; atMs: number }>();
  let serial = 0;
  const stage = onStage(FOUR, [
    {
      unit: 1,
      ...device,
      takesMs: () => (asked++ === 0 ? 20 : (delays[(asked - 2) % delays.length] ?? null)),
      registers: (_, address) => {
        serial = (serial + 1) % 3000; // no higher: a reading above 3000 degrees C is marked
        given.set(String(serial), { channel: CHANNEL_AT[address] ?? '', atMs: stage.clock.nowMs() });
        return [serial];
      },
    },
  ]);
  stage.clock.advance(seconds * 1000);
  const readings = stage.events.flatMap((event) => {
    if (event.kind !== 'reading') return [];
    const source = given.get(String(event.value));
    return [{ got: event.channel, sent: source?.channel, ageMs: event.atMs - (source?.atMs ?? -1e9) }];
  });
  return { ...stage, readings };
}

function expectAllFresh(readings: ReturnType<typeof run>['readings']): void {
  for (const { got, sent, ageMs } of readings) {
    expect(got).toBe(sent);
    expect(ageMs).toBe(0); // told in the very moment in which the device sent it
  }
}

describe('late answers', () => {
  it.each([150, 250, 450, 1000, 3000])('are never read as those of another question (%d ms late)', (late) => {
    const { readings, events } = run([...ON_TIME, late]);
    expectAllFresh(readings);
    expect(readings.length).toBeGreaterThan(30);
    expect(faultsOf(events).some((fault) => fault.startsWith('no-answer'))).toBe(true);
  });

  it('are never read when every answer is late', () => {
    const { readings } = run([130]);
    expect(readings).toEqual([]);
  });

  it.each([150, 180])('of a device without the marker are not read either (%d ms late)', (late) => {
    const { readings } = run([...ON_TIME, late], { ignores: [1, 2] });
    expectAllFresh(readings);
    expect(readings.length).toBeGreaterThan(30);
  });

  it('and lost ones, in any order, never give a wrong or an old number (seed 31)', () => {
    const delay = fc.oneof(
      { weight: 6, arbitrary: fc.integer({ min: 1, max: 90 }) },
      { weight: 2, arbitrary: fc.integer({ min: 101, max: 2000 }) },
      { weight: 1, arbitrary: fc.constant(null) },
    );
    fc.assert(
      fc.property(
        fc.constantFrom(...DEVICES),
        fc.array(delay, { minLength: 1, maxLength: 40 }),
        (device, delays) => {
          expectAllFresh(run(delays, device, 20).readings);
        },
      ),
      { seed: 31, numRuns: 150 },
    );
  });

  it('that come when nothing is asked are counted, and what follows is right', () => {
    const { clock, events, far, readings } = run([20], {}, 1);
    expectAllFresh(readings);
    clock.advance(150);
    far.send(Uint8Array.of(1, 3, 2, 0x00, 0x0a, 0x38, 0x43)); // the standard's answer, sent by nobody's asking
    clock.advance(1000);
    expect(faultsOf(events)).toEqual([expect.stringMatching(/^late-answer: came when nothing was asked/)]);
    expect(events.some((event) => event.kind === 'reading' && event.value === 10 && event.atMs > 1000)).toBe(
      false,
    );
  });
});
