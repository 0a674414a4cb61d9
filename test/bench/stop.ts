import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { busySession } from '../daemon/busy-session.js';

export interface StopRow {
  readonly name: string;
  readonly rounds: number;
  /** From the signal to the program's exit. Wanted: at most 1000. */
  readonly medianMs: number;
  readonly worstMs: number;
  /** An idle Node that ends itself at the same signal. */
  readonly bareMedianMs: number;
  readonly medianRatio: number;
}

const ROUNDS = 5;
const BARE =
  "process.once('SIGTERM', () => process.exit()); setInterval(() => undefined, 1e6); console.log('up')";

/** How soon a session ends that pages look at, whose instruments hang and whose threads are at work. */
export async function rows(): Promise<readonly StopRow[]> {
  const ours: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    ours.push(await ownStop());
    bare.push(await bareStop());
  }
  const [medianMs, bareMedianMs] = [median(ours), median(bare)];
  return [
    {
      name: 'SIGTERM to exit, everything busy',
      rounds: ROUNDS,
      medianMs: Math.round(medianMs),
      worstMs: Math.round(Math.max(...ours)),
      bareMedianMs: Math.round(bareMedianMs),
      medianRatio: Math.round((medianMs / bareMedianMs) * 10) / 10,
    },
  ];
}

async function ownStop(): Promise<number> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-stop-'));
  const session = await busySession(folder, process.cwd());
  const exited = once(session.child, 'exit');
  const startedMs = performance.now();
  session.child.kill('SIGTERM');
  await exited;
  const took = performance.now() - startedMs;
  await session.tidy();
  await rm(folder, { recursive: true, force: true });
  return took;
}

async function bareStop(): Promise<number> {
  const child = spawn(process.execPath, ['-e', BARE], { stdio: ['ignore', 'pipe', 'inherit'] });
  await once(child.stdout, 'data');
  const exited = once(child, 'exit');
  const startedMs = performance.now();
  child.kill('SIGTERM');
  await exited;
  return performance.now() - startedMs;
}

function median(numbers: readonly number[]): number {
  return numbers.toSorted((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? NaN;
}
