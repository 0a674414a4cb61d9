import { afterEach, describe, expect, it } from 'vitest';
import type { ChannelSpec, Driver, InstrumentEvent } from '../../../drivers/driver.js';
import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import { startSimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import { textLines } from '../../../drivers/text-lines/text-lines.js';
import { manualClock } from '../../manual-clock.js';
import type { ManualClock } from '../../manual-clock.js';
import { CABIN, CABIN_BENCH } from './cabin.js';

const cleanups: (() => Promise<unknown>)[] = [];
afterEach(() => Promise.all(cleanups.splice(0).map((cleanup) => cleanup())));

function cabinReadBy(driver: Driver, instrument: string, channels?: readonly ChannelSpec[]) {
  const clock = manualClock();
  const bench = startSimulatedBench({ design: CABIN, bench: CABIN_BENCH, clock });
  const options = CABIN_BENCH.instruments[instrument]?.options ?? {};
  expect(driver.checkOptions(options)).toEqual([]);
  const events: InstrumentEvent[] = [];
  const running = driver.start({
    instrument,
    link: bench.linkFor(instrument),
    channels: channels ?? driver.channelsOf(options),
    options,
    clock,
    emit: (event) => void events.push(event),
  });
  cleanups.push(async () => {
    await running.stop();
    await bench.stop();
  });
  return { clock, bench, events };
}

/** Lets time pass in small pieces, with room for what the driver awaits in between. */
async function pass(clock: ManualClock, ms: number): Promise<void> {
  for (let passed = 0; passed < ms; passed += 50) {
    clock.advance(50);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

function lastReading(events: readonly InstrumentEvent[], channel: string): number | null | undefined {
  const found = events.findLast((event) => event.kind === 'reading' && event.channel === channel);
  return found?.kind === 'reading' ? found.value : undefined;
}

function faults(events: readonly InstrumentEvent[]): InstrumentEvent[] {
  return events.filter((event) => event.kind === 'fault');
}

describe('the real drivers', () => {
  it('read the meter, without a fault', async () => {
    const volts: ChannelSpec = { name: 'volts', measures: 'dc-volts' };
    const { clock, bench, events } = cabinReadBy(scpiMeter, 'meter', [volts]);
    await pass(clock, 5000);
    expect(lastReading(events, 'volts')).toBeCloseTo(bench.truth('reservoir.volts'), 1);
    expect(faults(events)).toEqual([]);
  });

  it('read the board of the temperature probes, without a fault', async () => {
    const { clock, bench, events } = cabinReadBy(textLines, 'probes');
    await pass(clock, 60_000);
    expect(lastReading(events, 'logic.case')).toBeCloseTo(bench.truth('logic.case'), 0);
    expect(lastReading(events, 'lamps.case')).toBeCloseTo(bench.truth('lamps.case'), 0);
    expect(faults(events)).toEqual([]);
  });
});
