import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { monitorEventLoopDelay, performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { JobThread } from '../../daemon/job/job-thread.js';
import type { JobAsk } from '../../daemon/serve/job-ask.js';
import { longEvents, recordEvents } from '../daemon/record/long-session.js';

export interface JobRow {
  readonly recording: string;
  readonly name: string;
  /** The middle of the rounds. */
  readonly median: number;
  readonly least: number;
  readonly most: number;
  readonly unit: string;
}

const SEED = 20_261_125;
const HOURS = 8;
const LENGTH_MS = HOURS * 3_600_000;
const ROUNDS = 5;
const SEEKS = 20;
/** As a page 1280 pixels wide asks. */
const MOST = 1024;

/** What a page waits for: an eight-hour session of 2.3 million readings, and the soak of the samples. */
export async function rows(): Promise<readonly JobRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-bench-'));
  try {
    const file = await recordEvents(folder, longEvents(HOURS * 3600, 10, SEED));
    copyFileSync('recordings/eight-hour-soak.ndjson.gz', join(folder, 'soak.ndjson.gz'));
    return [
      ...(await looking(folder, basename(file), '2.3 million')),
      ...(await looking(folder, 'soak.ndjson.gz', 'sample, gz')),
      memory(folder, basename(file)),
    ];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function looking(folder: string, recording: string, label: string): Promise<JobRow[]> {
  const first: number[] = [];
  const again: number[] = [];
  const ranges: number[] = [];
  const seeks: number[] = [];
  const pauses: number[] = [];
  const opening: JobAsk = { kind: 'overview', recording, fromMs: 0, toMs: null, most: MOST };
  for (let round = 0; round < ROUNDS; round += 1) {
    forget(folder);
    await onThread(folder, async (ask) => {
      const delay = monitorEventLoopDelay({ resolution: 1 });
      delay.enable();
      first.push(await milliseconds(() => ask(opening)));
      delay.disable();
      pauses.push(delay.max / 1e6);
    });
    await onThread(folder, async (ask) => {
      again.push(await milliseconds(() => ask(opening)));
      const fromMs = (LENGTH_MS * (round + 0.5)) / ROUNDS;
      const range: JobAsk = { ...opening, fromMs, toMs: fromMs + 600_000 };
      ranges.push(await milliseconds(() => ask(range)));
    });
  }
  const ahead = await milliseconds(() => playAhead(folder, recording));
  await onThread(folder, async (ask) => {
    await ask(opening);
    for (let round = 0; round < SEEKS; round += 1) {
      // The golden ratio's multiples lie all over the session.
      const atMs = Math.round(((round * 0.618034) % 1) * LENGTH_MS);
      seeks.push(await milliseconds(() => ask({ kind: 'state', recording, atMs })));
    }
  });
  return [
    row(label, 'opening for the first time: curves, bands, limits, events', 'ms', first),
    row(label, 'longest pause of the watching thread meanwhile', 'ms', pauses),
    row(label, 'opening with the index beside it', 'ms', again),
    row(label, 'ten minutes of it, read closer', 'ms', ranges),
    row(label, 'playing all of it ahead, once, so that every seek is fast', 'ms', [ahead]),
    row(label, 'the state at a moment', 'ms', seeks),
  ];
}

/** Nothing kept beside the recordings. */
function forget(folder: string): void {
  for (const name of readdirSync(folder).filter((one) => one.startsWith('.'))) rmSync(join(folder, name));
}

/** Seeks once and waits until the states of the whole session are kept beside it. */
async function playAhead(folder: string, recording: string): Promise<void> {
  await onThread(folder, async (ask) => {
    await ask({ kind: 'state', recording, atMs: 0 });
    await ask({ kind: 'state', recording, atMs: LENGTH_MS });
    const kept = `.${recording}.states`;
    while (!readdirSync(folder).includes(kept)) await new Promise((resolve) => setTimeout(resolve, 5));
  });
}

type Asker = (ask: JobAsk) => Promise<number>;

async function onThread(folder: string, work: (ask: Asker) => Promise<void>): Promise<void> {
  const thread = new JobThread({ folder, software: 'bench', running: () => null });
  const never = new AbortController().signal;
  // Started before anything is timed: a page has asked for the list by then.
  await body(thread, { kind: 'list' }, never);
  await work((ask) => body(thread, ask, never));
  await thread.close();
}

/** Letters in the whole body. */
async function body(thread: JobThread, ask: JobAsk, signal: AbortSignal): Promise<number> {
  const answer = await thread.answer(ask, signal);
  if (!answer.ok) throw new Error(answer.why);
  let letters = 0;
  for await (const chunk of answer.chunks) letters += chunk.length;
  return letters;
}

/** Peak of a process of its own that opens, draws, looks closer and seeks on its thread, everything kept beside. */
function memory(folder: string, recording: string): JobRow {
  const script = fileURLToPath(new URL('../../../../test/bench/children/look-at-job.mjs', import.meta.url));
  const thread = new URL('../../daemon/job/job-thread.js', import.meta.url).href;
  const megabytes = Array.from(
    { length: ROUNDS },
    () =>
      Number(execFileSync(process.execPath, [script, thread, folder, recording], { encoding: 'utf8' })) /
      1024,
  );
  return row('2.3 million', 'memory for opening, looking closer and seeking, whole process', 'MB', megabytes);
}

async function milliseconds(work: () => Promise<unknown>): Promise<number> {
  const startedMs = performance.now();
  await work();
  return performance.now() - startedMs;
}

function row(recording: string, name: string, unit: string, values: readonly number[]): JobRow {
  const sorted = [...values].sort((a, b) => a - b);
  const rounded = (value = NaN): number => Number(value.toPrecision(3));
  return {
    recording,
    name,
    median: rounded(sorted[Math.floor(sorted.length / 2)]),
    least: rounded(sorted[0]),
    most: rounded(sorted.at(-1)),
    unit,
  };
}
