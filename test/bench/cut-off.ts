import { fork, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { SerialPort } from 'serialport';
import { relayTable } from '../daemon/relay-table.js';
import { openPtyPair, type PtyPair } from '../drivers/pty.js';
import { oneRound, type Delay } from './cut-off-session.js';

export interface DelayRow {
  readonly name: string;
  readonly rounds: number;
  /** From writing the reading's last byte to the relay's OPEN at the far end of its terminal. */
  readonly medianMs: number;
  /** Wanted: at most 50. */
  readonly p99Ms: number;
  readonly worstMs: number;
  /** What the program computed in that time, all its threads together; on a busy machine the rest is waiting for a turn. */
  readonly p99CpuMs: number;
  readonly worstCpuMs: number;
  /** The very first one, when none of the program's code for it has run before. */
  readonly firstMs: number;
  /** The same way through two bare serial ports: bytes in at one, a line out at the other. */
  readonly bareMedianMs: number;
  readonly bareWorstMs: number;
  readonly medianRatio: number;
}

const QUIET_ROUNDS = 20;
const FULL_ROUNDS = 200;
const TOLD_EVERY = 20;
/** With the board that carries the reading, sixteen instruments. */
const MORE_BOARDS = 15;
const READING = 'LOGIC 18.6 V\r\n';
const BOARDS = fileURLToPath(new URL('../../../../test/bench/children/terminal-boards.mjs', import.meta.url));

/**
 * How long after a reading that shows the reservoir on a rail the relay is told to open, the disk being written: with
 * one board, and with sixteen at 10 to 50 readings a second and two pages that listen.
 */
export async function rows(): Promise<readonly DelayRow[]> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-cut-off-'));
  const pageFolder = join(folder, 'web');
  await mkdir(pageFolder);
  await writeFile(join(pageFolder, 'index.html'), '<!doctype html><title>page</title>');
  const [rails, relay] = await Promise.all([openPtyPair(folder, 'rails'), openPtyPair(folder, 'relay')]);
  const measure = measuring(rails, relay);
  const paths = Array.from({ length: MORE_BOARDS }, (_, place) => join(folder, `board-${place}`));
  try {
    const bare = await bareRounds(rails, relay, measure);
    const quiet = await rounds(QUIET_ROUNDS, () =>
      oneRound({
        folder,
        pageFolder,
        benchText: relayTable(rails.devicePath, relay.devicePath),
        rails,
        measure,
      }),
    );
    const boards = fork(BOARDS, paths);
    await once(boards, 'message');
    try {
      const benchText = relayTable(rails.devicePath, relay.devicePath, { instruments: boardsText(paths) });
      const full = await rounds(FULL_ROUNDS, () =>
        oneRound({
          folder,
          pageFolder,
          benchText,
          rails,
          measure,
          openPages: (page) => void boards.send(page),
        }),
      );
      return [
        rowOf('a reading in, OPEN out, one board', quiet, bare),
        rowOf('the same, 16 instruments at 10 to 50 readings/s, two pages', full, bare),
      ];
    } finally {
      await ended(boards);
    }
  } finally {
    await Promise.all([rails.unplug(), relay.unplug()]);
    await rm(folder, { recursive: true, force: true });
  }
}

/** The relay board answers as one does; a round is over when OPEN has come. */
function measuring(rails: PtyPair, relay: PtyPair): () => Promise<Delay> {
  let onLine: (line: string) => void = () => undefined;
  let isClosed = false;
  relay.onData((bytes) => {
    for (const line of bytes.toString('ascii').split('\n')) {
      if (line === 'CLOSE' || line === 'OPEN') isClosed = line === 'CLOSE';
      if (line === 'STATE') void relay.write(isClosed ? 'CLOSED\r\n' : 'OPENED\r\n');
      onLine(line);
    }
  });
  return async () => {
    const opened = new Promise<void>((resolve) => (onLine = (line) => line === 'OPEN' && resolve()));
    const [sentMs, usedBefore] = [performance.now(), process.cpuUsage()];
    void rails.write(READING);
    await opened;
    const { user, system } = process.cpuUsage(usedBefore);
    return { ms: performance.now() - sentMs, cpuMs: (user + system) / 1000 };
  };
}

function boardsText(paths: readonly string[]): string {
  return paths
    .map(
      (path, place) => `  board-${place}:
    driver: text-lines
    link: { serial: ${path} }
    options: { pattern: 'V: {lamps.volts} V', interval_ms: 100 }
`,
    )
    .join('');
}

/** Said now and then, for all of it takes some minutes. */
async function rounds(count: number, round: () => Promise<Delay>): Promise<Delay[]> {
  const found: Delay[] = [];
  while (found.length < count) {
    found.push(await round());
    if (found.length % TOLD_EVERY === 0) console.log(`${found.length} of ${count} rounds`);
  }
  return found;
}

async function ended(child: ChildProcess): Promise<void> {
  const exited = once(child, 'exit');
  child.kill('SIGTERM');
  await exited;
}

async function bareRounds(rails: PtyPair, relay: PtyPair, measure: () => Promise<Delay>): Promise<Delay[]> {
  const [from, to] = await Promise.all([openPort(rails.devicePath), openPort(relay.devicePath)]);
  from.on('data', (bytes: Buffer) => {
    if (bytes.includes('\n')) to.write('OPEN\n');
  });
  const found = await rounds(QUIET_ROUNDS, async () => {
    const delay = await measure();
    await new Promise((resolve) => setTimeout(resolve, 100));
    return delay;
  });
  await Promise.all([from, to].map((port) => new Promise<void>((resolve) => port.close(() => resolve()))));
  return found;
}

function openPort(path: string): Promise<SerialPort> {
  return new Promise((resolve, reject) => {
    const port = new SerialPort({ path, baudRate: 9600 }, (error) =>
      error === null ? resolve(port) : reject(error),
    );
  });
}

function rowOf(name: string, rounds: readonly Delay[], bareRounds: readonly Delay[]): DelayRow {
  const [ours, bare] = [rounds, bareRounds].map((all) => all.map(({ ms }) => ms)) as [number[], number[]];
  const cpu = rounds.map(({ cpuMs }) => cpuMs);
  return {
    name,
    rounds: ours.length,
    medianMs: rounded(quantile(ours, 0.5)),
    p99Ms: rounded(quantile(ours, 0.99)),
    worstMs: rounded(Math.max(...ours)),
    p99CpuMs: rounded(quantile(cpu, 0.99)),
    worstCpuMs: rounded(Math.max(...cpu)),
    firstMs: rounded(ours[0] ?? NaN),
    bareMedianMs: rounded(quantile(bare, 0.5)),
    bareWorstMs: rounded(Math.max(...bare)),
    medianRatio: rounded(quantile(ours, 0.5) / quantile(bare, 0.5)),
  };
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
}

function rounded(value: number): number {
  return Math.round(value * 100) / 100;
}
