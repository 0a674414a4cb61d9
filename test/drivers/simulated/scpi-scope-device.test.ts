import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { Clock } from '../../../drivers/clock.js';
import type { Capture, InstrumentEvent } from '../../../drivers/driver.js';
import type { Link } from '../../../drivers/link.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { tcpLink } from '../../../drivers/links/tcp.js';
import { scaleSamples } from '../../../drivers/scpi-scope/samples.js';
import { scpiScope } from '../../../drivers/scpi-scope/scpi-scope.js';
import { scaledClock } from '../../../drivers/simulated/clock.js';
import { serveSimulatedBench } from '../../../drivers/simulated/serve-bench.js';
import { startSimulatedBench, type SimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf, statesOf } from '../events.js';
import { CABIN } from './cabin.js';
import { scopeBench } from './scope-bench.js';

const cleanups: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

function read(link: Link, clock: Clock, options: unknown) {
  expect(scpiScope.checkOptions(options)).toEqual([]);
  const captures: Capture[] = [];
  const events: InstrumentEvent[] = [];
  const channels = scpiScope.channelsOf(options);
  const running = scpiScope.start({
    instrument: 'scope',
    link,
    channels,
    options,
    clock,
    emit: (event) => void events.push(event),
    onCapture: (capture) => void captures.push(capture),
  });
  cleanups.push(() => running.stop());
  return { captures, events };
}

function onTable(dialect: string, options: Readonly<Record<string, unknown>> = {}) {
  const clock = manualClock();
  const benchFile = scopeBench(dialect, options);
  const bench = startSimulatedBench({ design: CABIN, bench: benchFile, clock });
  cleanups.push(() => bench.stop());
  const heard = read(bench.linkFor('scope'), clock, benchFile.instruments['scope']?.options);
  return { clock, bench, ...heard };
}

function volts(capture: Capture): Float64Array {
  const values = new Float64Array(capture.samples.length);
  scaleSamples(capture, values);
  return values;
}

const peakToPeak = (values: Float64Array): number => Math.max(...values) - Math.min(...values);
const mean = (values: Float64Array): number => values.reduce((sum, each) => sum + each, 0) / values.length;

async function pass(clock: ReturnType<typeof manualClock>, ms: number): Promise<void> {
  for (let passed = 0; passed < ms; passed += 50) {
    clock.advance(50);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** The supply is integrated by code of its own, so what the supply says is an outside check of what the driver reads. */
function expectReservoir(capture: Capture | undefined, bench: SimulatedBench): void {
  if (capture === undefined) throw new Error('nothing was captured');
  const values = volts(capture);
  expect(mean(values)).toBeCloseTo(bench.truth('reservoir.volts'), 1);
  const ripple = bench.truth('reservoir.ripple');
  expect(Math.abs(peakToPeak(values) / ripple - 1)).toBeLessThan(0.05);
  expect(capture.samples).toHaveLength(1000);
  expect(capture.stepSeconds).toBeCloseTo(5e-5, 12);
  expect(capture.startSeconds).toBeCloseTo(-0.025, 9);
}

describe.each(['ten-field', 'trace-dif'])('the simulated scope in the dialect %s', (dialect) => {
  it.each([8, 16])('is read by the driver in %i bits, without a fault', async (bits) => {
    const { bench, captures, clock, events } = onTable(dialect, { sample_bits: bits });
    await pass(clock, 3000);
    expect(faultsOf(events)).toEqual([]);
    expect(statesOf(events)).toEqual(['open', 'reading']);
    const last = captures.filter(({ channel }) => channel === 'reservoir.volts').at(-1);
    expectReservoir(last, bench);
    expect(last).toMatchObject({ unit: 'V', coupling: 'dc', attenuation: 10 });
    const lamps = captures.at(-1);
    expect(lamps).toMatchObject({ channel: 'lamps.volts', acquisition: last?.acquisition });
    if (lamps !== undefined) expect(mean(volts(lamps))).toBeCloseTo(bench.truth('lamps.volts'), 1);
  });

  it('rises through the middle at the trigger, which is the middle of the screen', async () => {
    const { captures, clock } = onTable(dialect, { sample_bits: 16 });
    await pass(clock, 2000);
    const values = volts(captures[0] as Capture);
    const middle = (Math.max(...values) + Math.min(...values)) / 2;
    const within = 0.1 * peakToPeak(values);
    expect(Math.abs((values[500] as number) - middle)).toBeLessThan(within);
    expect(values[520] as number).toBeGreaterThan(values[480] as number);
  });

  it('has lost the mean with AC coupling, and the capture says so', async () => {
    const command = dialect === 'ten-field' ? ':CHAN1:COUP AC' : 'INP1:COUP AC';
    const { bench, captures, clock } = onTable(dialect, { first_commands: [command] });
    await pass(clock, 2000);
    const capture = captures.find(({ channel }) => channel === 'reservoir.volts') as Capture;
    expect(capture.coupling).toBe('ac');
    expect(mean(volts(capture))).toBeCloseTo(0, 1);
    expect(Math.abs(peakToPeak(volts(capture)) / bench.truth('reservoir.ripple') - 1)).toBeLessThan(0.05);
  });

  it('is not read on an input that is set to ground', async () => {
    const command = dialect === 'ten-field' ? ':CHAN1:COUP GND' : 'INP1:COUP GRO';
    const { captures, clock, events } = onTable(dialect, { first_commands: [command] });
    await pass(clock, 2000);
    expect(new Set(captures.map(({ channel }) => channel))).toEqual(new Set(['lamps.volts']));
    expect(faultsOf(events)[0]).toBe(
      'not-understood: reservoir.volts is not read: its input is set to ground',
    );
  });

  it('is lost when unplugged and read again when plugged in', async () => {
    const { bench, captures, clock, events } = onTable(dialect);
    await pass(clock, 2000);
    await bench.unplug('scope');
    await pass(clock, 1000);
    const before = captures.length;
    await bench.plugIn('scope');
    await pass(clock, 2000);
    expect(captures.length).toBeGreaterThan(before);
    expect(statesOf(events)).toEqual(['open', 'reading', 'lost', 'open', 'reading']);
  });

  it('captures once and leaves it at that', async () => {
    const { bench, captures, clock } = onTable(dialect, { captures: 'once' });
    await pass(clock, 5000);
    expect(captures.map(({ channel }) => channel)).toEqual(['reservoir.volts', 'lamps.volts']);
    await bench.unplug('scope');
    await bench.plugIn('scope');
    await pass(clock, 5000);
    expect(captures).toHaveLength(2);
  });
});

describe('the simulated scope with its own time', () => {
  it.each(['ten-field', 'trace-dif'])('is read over TCP in %s', async (dialect) => {
    const clock = scaledClock(4);
    const benchFile = scopeBench(dialect);
    const bench = startSimulatedBench({ design: CABIN, bench: benchFile, clock });
    const served = await serveSimulatedBench(bench, { as: 'tcp' });
    cleanups.push(() => served.stop());
    const link = served.instruments[0]?.link;
    const [host = '', port = ''] = (link !== undefined && 'tcp' in link ? link.tcp : '').split(':');
    const options = benchFile.instruments['scope']?.options;
    const { captures } = read(tcpLink({ host, port: Number(port), clock }), clock, options);
    await expect.poll(() => captures.length, { timeout: 15_000 }).toBeGreaterThan(3);
    expectReservoir(captures.at(-2), bench);
  });

  it.each(['ten-field', 'trace-dif'])('is read through a pseudo-terminal in %s', async (dialect) => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-scope-'));
    cleanups.push(() => rm(folder, { recursive: true, force: true }));
    const clock = scaledClock(4);
    const benchFile = scopeBench(dialect, { sample_bits: 16 });
    const bench = startSimulatedBench({ design: CABIN, bench: benchFile, clock });
    const served = await serveSimulatedBench(bench, { directory: folder });
    cleanups.push(() => served.stop());
    const link = serialLink({ path: join(folder, 'scope'), baud: 115_200, clock });
    const { captures } = read(link, clock, benchFile.instruments['scope']?.options);
    await expect.poll(() => captures.length, { timeout: 15_000 }).toBeGreaterThan(3);
    expectReservoir(captures.at(-2), bench);
  });
});
