import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { gzipSync } from 'node:zlib';
import { cachePath } from '../../daemon/record/index/cache-file.js';
import { openOverview } from '../../daemon/record/index/overview.js';
import { openStates } from '../../daemon/record/index/saved-states.js';
import { openPlayer } from '../../daemon/record/player.js';
import { readPieces } from '../../daemon/record/reader.js';
import { replay } from '../../daemon/record/replay.js';
import { bundleInto } from '../daemon/record/bundle-into.js';
import { longEvents, recordEvents } from '../daemon/record/long-session.js';
import { systemDisk } from '../../daemon/record/disk.js';

export interface RecordRow {
  readonly name: string;
  /** The middle of the rounds. */
  readonly median: number;
  readonly least: number;
  readonly most: number;
  readonly unit: string;
  /** Of a time: the middle over the time that JSON.parse takes for all lines of the file, in the same run. */
  readonly ofParsing?: number;
}

const SEED = 20_261_125;
const HOURS = 8;
const ROUNDS = 5;
const SOFTWARE = 'bench';
const LIVE_SECONDS = 60;

/** An eight-hour session of eight channels ten times a second, and what writing one live costs. */
export async function rows(): Promise<readonly RecordRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-bench-'));
  try {
    const file = await recordEvents(folder, longEvents(HOURS * 3600, 10, SEED));
    const timed = [...(await opening(file)), await seeking(file)];
    const parseMs = parsing(file);
    return [
      ...sizes(file),
      ...(await speeds(file)),
      ...timed.map((one) => ({ ...one, ofParsing: rounded(one.median / parseMs) })),
      await memory(folder, file),
      await writing(folder),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const READINGS = HOURS * 3600 * 10 * 8;

function sizes(file: string): RecordRow[] {
  const plain = statSync(file).size / READINGS;
  const packed = gzipSync(readFileSync(file), { level: 9 }).length / READINGS;
  return [
    row('size of a reading, everything in the file counted', 'bytes', [plain]),
    row('the same after gzip', 'bytes', [packed]),
  ];
}

/** Reading against JSON.parse on the same lines, in turns in the same run. */
async function speeds(file: string): Promise<RecordRow[]> {
  const ratios: number[] = [];
  const replays: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
    const parseMs = await milliseconds(() => lines.forEach((line) => void JSON.parse(line)));
    const readMs = await milliseconds(() => readAll(file));
    ratios.push((100 * parseMs) / readMs);
    const replayMs = await milliseconds(() => replay(file, { speed: 'fast' }));
    replays.push((READINGS / replayMs) * 1000);
  }
  return [
    row('reading and checking, share of the speed of JSON.parse alone', '%', ratios),
    row('replay through the whole core', 'readings/s', replays),
  ];
}

async function readAll(file: string): Promise<void> {
  let count = 0;
  for await (const { items } of readPieces(file)) {
    for (const item of items) if (item.kind === 'events') count += item.events.length;
  }
  if (count < READINGS) throw new Error(`only ${count} of ${READINGS} readings were read`);
}

async function opening(file: string): Promise<RecordRow[]> {
  const first: number[] = [];
  const again: number[] = [];
  const ranges: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    rmSync(cachePath(file, 'overview'), { force: true });
    first.push(await milliseconds(() => openOverview(file, SOFTWARE)));
    again.push(await milliseconds(() => openOverview(file, SOFTWARE)));
    const overview = await openOverview(file, SOFTWARE);
    const fromMs = (HOURS * 3_600_000 * (round + 0.5)) / ROUNDS;
    ranges.push(
      await milliseconds(async () => {
        for (const series of overview.series.slice(0, 1)) {
          await overview.curve(series, { fromMs, toMs: fromMs + 2_000_000, most: 600 });
        }
      }),
    );
  }
  return [
    row('opening for the first time', 'ms', first),
    row('opening with the index beside it', 'ms', again),
    row('half an hour of one channel in 600 stretches', 'ms', ranges),
  ];
}

async function seeking(file: string): Promise<RecordRow> {
  const first = await openPlayer(file);
  const states = await openStates(file, first.header, SOFTWARE);
  await first.seek(Infinity);
  await states.save(first.checkpoints);
  await first.close();
  const times: number[] = [];
  const player = await openPlayer(file);
  player.takeCheckpoints((await openStates(file, player.header, SOFTWARE)).checkpoints);
  for (let round = 0; round < 4 * ROUNDS; round += 1) {
    // The golden ratio's multiples lie all over the session.
    const atMs = ((round * 0.618034) % 1) * HOURS * 3_600_000;
    times.push(await milliseconds(() => player.seek(atMs)));
  }
  await player.close();
  return row('seeking, with the states beside it', 'ms', times);
}

/** Processor time for a minute of session at 1,000 readings a second, with the disk's real syncs. */
async function writing(folder: string): Promise<RecordRow> {
  const shares: number[] = [];
  const events = [...longEvents(LIVE_SECONDS, 125, SEED)];
  for (let round = 0; round < ROUNDS; round += 1) {
    const before = process.cpuUsage();
    await recordEvents(folder, events, systemDisk);
    const { user, system } = process.cpuUsage(before);
    shares.push((100 * (user + system)) / (LIVE_SECONDS * 1e6));
  }
  return row('writing 1,000 readings a second, share of one core', '%', shares);
}

/** Peak of a process of its own that opens, draws and seeks, with everything kept beside the file. */
async function memory(folder: string, file: string): Promise<RecordRow> {
  const script = await bundleInto(folder, 'open-and-seek.ts');
  const kilobytes = Array.from({ length: ROUNDS }, () =>
    Number(execFileSync(process.execPath, [script, file, SOFTWARE], { encoding: 'utf8' })),
  );
  const megabytes = kilobytes.map((value) => value / 1024);
  return row('memory for opening, drawing and seeking, whole process', 'MB', megabytes);
}

/** The middle of some rounds, ms. */
function parsing(file: string): number {
  const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
  const times = Array.from({ length: ROUNDS }, () => {
    const startedMs = performance.now();
    for (const line of lines) JSON.parse(line);
    return performance.now() - startedMs;
  });
  return times.sort((a, b) => a - b)[Math.floor(ROUNDS / 2)] ?? NaN;
}

async function milliseconds(work: () => unknown): Promise<number> {
  const startedMs = performance.now();
  await work();
  return performance.now() - startedMs;
}

function rounded(value: number | undefined): number {
  return Number((value ?? NaN).toPrecision(3));
}

function row(name: string, unit: string, values: readonly number[]): RecordRow {
  const sorted = [...values].sort((a, b) => a - b);
  return {
    name,
    median: rounded(sorted[Math.floor(sorted.length / 2)]),
    least: rounded(sorted[0]),
    most: rounded(sorted.at(-1)),
    unit,
  };
}
