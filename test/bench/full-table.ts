import { fork, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { performance } from 'node:perf_hooks';
import { resolve } from 'node:path';
import type { Driver } from '../../drivers/driver.js';
import { tcpLink } from '../../drivers/links/tcp.js';
import { systemClock } from '../../drivers/system-clock.js';

export interface LoadRow {
  readonly name: string;
  readonly readings: number;
  /** Wanted: at most 10. */
  readonly percentOfOneCore: number;
}

export const READINGS_PER_SECOND = 50;
const INSTRUMENTS = 16;
const LOAD_MS = 4000;

/** What sixteen instruments cost that another process serves over TCP, each giving fifty readings a second. */
export async function fullTable(
  name: string,
  driver: Driver,
  options: unknown,
  server: string,
): Promise<LoadRow> {
  const child = fork(resolve('test/bench/children', server), [String(READINGS_PER_SECOND)]);
  const port = await portOf(child);
  let readings = 0;
  const running = Array.from({ length: INSTRUMENTS }, (_, at) =>
    driver.start({
      instrument: `${name}-${at}`,
      link: tcpLink({ host: '127.0.0.1', port }),
      channels: [{ name: 'volts', measures: 'dc-volts' }],
      options,
      clock: systemClock(),
      emit: (event) => void (readings += event.kind === 'reading' ? 1 : 0),
    }),
  );
  await pause(2000);
  readings = 0;
  const before = process.cpuUsage();
  const startedMs = performance.now();
  await pause(LOAD_MS);
  const { user, system } = process.cpuUsage(before);
  const percentOfOneCore = (user + system) / 10 / (performance.now() - startedMs);
  const counted = readings;
  await Promise.all(running.map((each) => each.stop()));
  child.kill();
  return { name: `${INSTRUMENTS} ${name} at ${READINGS_PER_SECOND}/s`, readings: counted, percentOfOneCore };
}

async function portOf(child: ChildProcess): Promise<number> {
  const [port] = (await once(child, 'message')) as [number];
  return port;
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
