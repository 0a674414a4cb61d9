import { afterEach, describe, expect, it } from 'vitest';
import { benchSchema, type Bench } from '../../../daemon/design/bench.js';
import type { Capture, ChannelSpec, Driver, InstrumentEvent } from '../../../drivers/driver.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { scpiScope } from '../../../drivers/scpi-scope/scpi-scope.js';
import { startSimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, statesOf } from '../events.js';
import { CABIN, CABIN_BENCH } from './cabin.js';
import { scopeBench } from './scope-bench.js';

const METER = benchSchema.parse({
  bench: 'Cabin table with a meter',
  instruments: {
    meter: {
      driver: 'scpi-meter',
      link: { serial: '/dev/none' },
      channels: {
        volts: { measures: 'dc-volts', at: 'reservoir.volts' },
        ripple: { measures: 'ac-volts', at: 'reservoir.ripple' },
      },
    },
  },
});
const METER_CHANNELS: readonly ChannelSpec[] = [
  { name: 'volts', measures: 'dc-volts' },
  { name: 'ripple', measures: 'ac-volts' },
];

const cleanups: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

function read(driver: Driver, name: string, table: Bench, given?: readonly ChannelSpec[]) {
  const clock = manualClock();
  const bench = startSimulatedBench({ design: CABIN, bench: table, clock });
  const options = table.instruments[name]?.options ?? {};
  const events: InstrumentEvent[] = [];
  const captures: Capture[] = [];
  const running = driver.start({
    instrument: name,
    link: bench.linkFor(name),
    channels: given ?? driver.channelsOf(options),
    options,
    clock,
    emit: (event) => void events.push(event),
    onCapture: (capture) => void captures.push(capture),
  });
  cleanups.push(
    () => bench.stop(),
    () => running.stop(),
  );
  return { clock, bench, events, captures };
}

/** Nineteen entries and an overflow in the place of the twentieth, each shown once (SCPI-1999 volume 2, 21.8.1). */
function expectWholeQueue(events: readonly InstrumentEvent[]): void {
  const shown = faultsOf(events).filter((fault) => fault.startsWith('instrument-error: '));
  expect(shown).toHaveLength(20);
  expect(shown.slice(0, 19).every((fault) => fault.includes('-113,"Undefined header"'))).toBe(true);
  expect(shown[19]).toContain('-350,"Queue overflow"');
}

describe('an instrument whose error queue is full', () => {
  it('as a meter: is shown entry by entry and read on, with the right values', () => {
    const { bench, clock, events } = read(scpiMeter, 'meter', METER, METER_CHANNELS);
    clock.advance(5000);
    bench.misbehave('meter', { hasFullErrorQueue: true });
    clock.advance(5000);
    expectWholeQueue(events);
    const before = events.length;
    clock.advance(5000);
    const after = events.slice(before);
    expect(faultsOf(after)).toEqual([]);
    const volts = after.flatMap((event) =>
      event.kind === 'reading' && event.channel === 'volts' ? [event.value] : [],
    );
    expect(volts.length).toBeGreaterThan(3);
    expect(volts.at(-1)).toBeCloseTo(bench.truth('reservoir.volts'), 1);
    expect(statesOf(events).at(-1)).toBe('reading');
  });

  it.each(['ten-field', 'trace-dif'])('as a scope in %s: likewise', (dialect) => {
    const { bench, captures, clock, events } = read(scpiScope, 'scope', scopeBench(dialect));
    clock.advance(5000);
    bench.misbehave('scope', { hasFullErrorQueue: true });
    clock.advance(5000);
    expectWholeQueue(events);
    const before = captures.length;
    clock.advance(5000);
    expect(captures.length).toBeGreaterThan(before + 3);
    expect(statesOf(events).at(-1)).toBe('reading');
  });

  it('over a bad line too: the overflow is shown and no wrong number comes of it', () => {
    const { bench, clock, events } = read(scpiMeter, 'meter', METER, METER_CHANNELS);
    clock.advance(5000);
    bench.misbehave('meter', { hasFullErrorQueue: true, latencyMs: 100, jitterMs: 50, tornShare: 0.1 });
    clock.advance(30_000);
    expect(faultsOf(events).some((fault) => fault.includes('-350,"Queue overflow"'))).toBe(true);
    for (const event of events) {
      if (event.kind === 'reading' && event.channel === 'volts' && event.value !== null)
        expect(event.value).toBeCloseTo(bench.truth('reservoir.volts'), 0);
    }
  });

  it('is refused for one that has no such queue', () => {
    const bench = startSimulatedBench({ design: CABIN, bench: CABIN_BENCH, clock: manualClock() });
    cleanups.push(() => bench.stop());
    expect(() => bench.misbehave('probes', { hasFullErrorQueue: true })).toThrow(
      'instruments.probes.driver: found "text-lines"; only instruments that speak SCPI have an error queue',
    );
  });
});
