import { afterEach, describe, expect, it } from 'vitest';
import { benchSchema } from '../../../daemon/design/bench.js';
import type { Driver, InstrumentEvent } from '../../../drivers/driver.js';
import { lcdFrames } from '../../../drivers/lcd-frames/lcd-frames.js';
import type { Link } from '../../../drivers/link.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { tcpLink } from '../../../drivers/links/tcp.js';
import { modbusRtu } from '../../../drivers/modbus-rtu/modbus-rtu.js';
import { scaledClock } from '../../../drivers/simulated/clock.js';
import { serveSimulatedBench } from '../../../drivers/simulated/serve-bench.js';
import { startSimulatedBench, type SimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import { systemClock } from '../../../drivers/system-clock.js';
import { manualClock, type ManualClock } from '../../manual-clock.js';
import { CABIN } from './cabin.js';

const HEATSINKS = [
  {
    channel: 'lamps.case',
    unit: 1,
    read: 'input',
    address: 0,
    type: 'int16',
    scale: 0.1,
    measures: 'temperature',
  },
  {
    channel: 'logic.case',
    unit: 1,
    read: 'input',
    address: 1,
    type: 'uint16',
    scale: 0.1,
    measures: 'temperature',
  },
  {
    channel: 'logic.volts',
    unit: 2,
    read: 'holding',
    address: 8,
    type: 'float32',
    order: 'CDAB',
    measures: 'dc-volts',
  },
];

const TABLE = benchSchema.parse({
  bench: 'Cabin table',
  instruments: {
    line: {
      driver: 'modbus-rtu',
      link: { serial: '/dev/none' },
      options: { registers: HEATSINKS, interval_ms: 200 },
    },
    handheld: {
      driver: 'lcd-frames',
      link: { serial: '/dev/none' },
      channels: { volts: { measures: 'dc-volts', at: 'reservoir.volts' } },
    },
  },
});

const cleanups: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

function read(
  driver: Driver,
  name: 'line' | 'handheld',
  link: Link,
  clock = systemClock(),
): InstrumentEvent[] {
  const { options = {}, channels = {} } = TABLE.instruments[name] ?? {};
  expect(driver.checkOptions(options)).toEqual([]);
  const events: InstrumentEvent[] = [];
  const own = Object.entries(channels).map(([channel, { measures }]) => ({ name: channel, measures }));
  const running = driver.start({
    instrument: name,
    link,
    channels: [...own, ...driver.channelsOf(options)],
    options,
    clock,
    emit: (event) => void events.push(event),
  });
  cleanups.push(() => running.stop());
  return events;
}

function inMemory() {
  const clock = manualClock();
  const bench = startSimulatedBench({ design: CABIN, bench: TABLE, clock });
  cleanups.push(() => bench.stop());
  return { clock, bench };
}

async function pass(clock: ManualClock, ms: number): Promise<void> {
  for (let passed = 0; passed < ms; passed += 5) {
    clock.advance(5);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

const values = (events: readonly InstrumentEvent[], channel: string): readonly (number | null)[] =>
  events.flatMap((event) => (event.kind === 'reading' && event.channel === channel ? [event.value] : []));
const faultsIn = (events: readonly InstrumentEvent[]) => events.filter(({ kind }) => kind === 'fault');

/** What was read is what was there, within the least digit of each. */
function expectTruth(
  bench: SimulatedBench,
  line: readonly InstrumentEvent[],
  display: readonly InstrumentEvent[],
) {
  expect(values(line, 'logic.volts').at(-1)).toBeCloseTo(bench.truth('logic.volts'), 2);
  expect(values(line, 'lamps.case').at(-1)).toBeCloseTo(bench.truth('lamps.case'), 0);
  expect(values(line, 'logic.case').at(-1)).toBeCloseTo(bench.truth('logic.case'), 0);
  expect(values(display, 'volts').at(-1)).toBeCloseTo(bench.truth('reservoir.volts'), 1);
}

describe('simulated MODBUS devices and a display meter', () => {
  it('are read by the drivers without a fault', async () => {
    const { clock, bench } = inMemory();
    const line = read(modbusRtu, 'line', bench.linkFor('line'), clock);
    const display = read(lcdFrames, 'handheld', bench.linkFor('handheld'), clock);
    await pass(clock, 10_000);
    expectTruth(bench, line, display);
    expect([...faultsIn(line), ...faultsIn(display)]).toEqual([]);
  });

  it.each(['serial', 'tcp'] as const)('are read over %s', async (as) => {
    const bench = startSimulatedBench({ design: CABIN, bench: TABLE, clock: scaledClock(1) });
    const served = await serveSimulatedBench(bench, { as });
    cleanups.push(() => served.stop());
    const linkOf = (name: string): Link => {
      const link = served.instruments.find(({ instrument }) => instrument === name)?.link;
      if (link !== undefined && 'serial' in link) return serialLink({ path: link.serial, baud: 9600 });
      const [host = '', port = ''] = (link !== undefined && 'tcp' in link ? link.tcp : '').split(':');
      return tcpLink({ host, port: Number(port) });
    };
    const line = read(modbusRtu, 'line', linkOf('line'));
    const display = read(lcdFrames, 'handheld', linkOf('handheld'));
    await expect.poll(() => values(line, 'logic.volts').length, { timeout: 15_000 }).toBeGreaterThan(2);
    await expect.poll(() => values(display, 'volts').length, { timeout: 15_000 }).toBeGreaterThan(2);
    expectTruth(bench, line, display);
  });
});

describe('misbehaving instruments', () => {
  it.each([
    ['late and unsteady', { latencyMs: 60, jitterMs: 40 }],
    ['torn', { tornShare: 0.3 }],
    ['with wrong bits', { flippedShare: 0.3 }],
  ])('%s: no wrong number comes of it on a line with a CRC (seed 0)', async (_, how) => {
    const { clock, bench } = inMemory();
    const line = read(modbusRtu, 'line', bench.linkFor('line'), clock);
    bench.misbehave('line', how);
    await pass(clock, 60_000);
    const volts = values(line, 'logic.volts');
    expect(volts.length).toBeGreaterThan(20);
    for (const value of volts) expect(value).toBeCloseTo(bench.truth('logic.volts'), 1);
    expect(faultsIn(line).length > 0).toBe(!('latencyMs' in how));
  });

  it('stuck: no readings, faults instead, and readings again when it is well', async () => {
    const { clock, bench } = inMemory();
    const line = read(modbusRtu, 'line', bench.linkFor('line'), clock);
    await pass(clock, 2000);
    bench.misbehave('line', { isStuck: true });
    await pass(clock, 1000);
    const before = values(line, 'logic.volts').length;
    await pass(clock, 5000);
    expect(values(line, 'logic.volts')).toHaveLength(before);
    expect(faultsIn(line)).toContainEqual(expect.objectContaining({ code: 'no-answer' }));
    bench.misbehave('line', {});
    await pass(clock, 10_000);
    expect(values(line, 'logic.volts').length).toBeGreaterThan(before);
  });

  it('unplugged with an answer under way: nothing of it comes after', async () => {
    const { clock, bench } = inMemory();
    const display = read(lcdFrames, 'handheld', bench.linkFor('handheld'), clock);
    bench.misbehave('handheld', { latencyMs: 300 });
    await pass(clock, 3000);
    await bench.unplug('handheld');
    const before = display.length;
    await pass(clock, 2000);
    expect(display.slice(before).filter(({ kind }) => kind === 'reading')).toEqual([]);
    await bench.plugIn('handheld');
    await pass(clock, 3000);
    expect(display.slice(before).some(({ kind }) => kind === 'reading')).toBe(true);
  });
});
