import { fork, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { performance } from 'node:perf_hooks';
import { resolve } from 'node:path';
import type { InstrumentEvent } from '../../drivers/driver.js';
import { memoryLinkPair } from '../../drivers/links/memory.js';
import { tcpLink } from '../../drivers/links/tcp.js';
import { systemClock } from '../../drivers/system-clock.js';
import { textLines } from '../../drivers/text-lines/text-lines.js';
import { LINES, againstParser, chunksOf, type ParserRow } from './against-parser.js';

export interface SpeedRow extends ParserRow {
  readonly name: string;
}

export interface LoadRow {
  readonly name: string;
  readonly readings: number;
  /** Wanted: at most 10. */
  readonly percentOfOneCore: number;
}

const INSTRUMENTS = 16;
const READINGS_PER_SECOND = 50;
const LOAD_MS = 4000;

/** How fast lines become readings, and what a full table of boards costs. */
export async function rows(): Promise<readonly (SpeedRow | LoadRow)[]> {
  const pattern = { pattern: 'T1: {lamps.case} C, T2: {logic.case} C' };
  const one = { pattern: '{logic.volts} V' };
  const fields = { T1: '{lamps.case} C', T2: '{logic.case} C' };
  const nested = { 'cases.T1': '{lamps.case} C', 'rails.logic': '{logic.volts} mV' };
  const inRails = { 'rails.logic': '{logic.volts} mV' };
  return [
    speed('one number a line', one, (n) => `${(5 + n / 1e6).toFixed(4)} V`),
    speed('two numbers a line', pattern, (n) => `T1: ${41 + (n % 90) / 10} C, T2: ${38 + (n % 7)}.5 C`),
    speed('csv, two columns', { format: 'csv', fields, header: 'n,T1,T2' }, (n) => `${n},41.${n % 10},38.5`),
    speed('json, two fields', { format: 'json', fields }, (n) => `{"n":${n},"T1":41.${n % 10},"T2":38.5}`),
    speed('json, two fields in objects', { format: 'json', fields: nested }, (n) => {
      return `{"n":${n},"cases":{"T1":41.${n % 10},"T2":38.5},"rails":{"logic":${5000 + (n % 90)}}}`;
    }),
    speed('json, one field in an object', { format: 'json', fields: inRails }, (n) => {
      return `{"rails": {"logic": ${5000 + (n % 90)}}}`;
    }),
    await load(),
  ];
}

function speed(name: string, options: unknown, line: (n: number) => string): SpeedRow {
  const chunks = chunksOf(Array.from({ length: LINES }, (_, n) => `${line(n)}\r\n`).join(''));
  return { name, ...againstParser(chunks, () => throughDriver(chunks, options)) };
}

function throughDriver(chunks: readonly Buffer[], options: unknown): void {
  const { link, far } = memoryLinkPair('board');
  let readings = 0;
  const emit = (event: InstrumentEvent): void => void (readings += event.kind === 'reading' ? 1 : 0);
  const channels = textLines.channelsOf(options);
  textLines.start({ instrument: 'board', link, channels, options, clock: systemClock(), emit });
  for (const chunk of chunks) far.send(chunk);
  if (readings < LINES - 1) throw new Error(`the driver gave ${readings} readings`);
}

/** Sixteen boards over TCP, each printing fifty lines a second from another process. */
async function load(): Promise<LoadRow> {
  const child = fork(resolve('test/bench/children/line-boards.mjs'), [String(READINGS_PER_SECOND)]);
  const port = await portOf(child);
  let readings = 0;
  const boards = Array.from({ length: INSTRUMENTS }, (_, at) =>
    textLines.start({
      instrument: `board-${at}`,
      link: tcpLink({ host: '127.0.0.1', port }),
      channels: [{ name: 'volts', measures: 'dc-volts' }],
      options: { pattern: 'U: {volts} V' },
      clock: systemClock(),
      emit: (event) => void (readings += event.kind === 'reading' ? 1 : 0),
    }),
  );
  await pause(1000);
  readings = 0;
  const before = process.cpuUsage();
  const startedMs = performance.now();
  await pause(LOAD_MS);
  const { user, system } = process.cpuUsage(before);
  const percentOfOneCore = (user + system) / 10 / (performance.now() - startedMs);
  const counted = readings;
  await Promise.all(boards.map((board) => board.stop()));
  child.kill();
  return { name: `${INSTRUMENTS} boards at ${READINGS_PER_SECOND}/s`, readings: counted, percentOfOneCore };
}

async function portOf(child: ChildProcess): Promise<number> {
  const [port] = (await once(child, 'message')) as [number];
  return port;
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
