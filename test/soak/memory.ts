import { readdirSync } from 'node:fs';

const HOUR_MS = 3_600_000;
/** By then every bounded memory is as full as it gets. */
const REFERENCE_HOUR = 10;

/** What lives in memory once the rest was collected, MB. */
export interface MemorySample {
  readonly atMs: number;
  readonly heap: number;
  readonly outside: number;
  readonly resident: number;
}

/** Only what is still in use counts, so this wants a garbage collector that can be called (`--expose-gc`). */
export function memoryNow(atMs: number): MemorySample {
  globalThis.gc?.();
  const { heapUsed, external, rss } = process.memoryUsage();
  return { atMs, heap: heapUsed / 1e6, outside: external / 1e6, resident: rss / 1e6 };
}

/** The medians of one hour, counted from 1; null without a sample in it. */
export function hourMedian(samples: readonly MemorySample[], hour: number): MemorySample | null {
  const own = samples.filter(({ atMs }) => Math.ceil(atMs / HOUR_MS) === hour);
  const median = (of: (sample: MemorySample) => number): number =>
    own.map(of).sort((a, b) => a - b)[Math.floor(own.length / 2)] ?? NaN;
  if (own.length === 0) return null;
  return {
    atMs: hour * HOUR_MS,
    heap: median(({ heap }) => heap),
    outside: median(({ outside }) => outside),
    resident: median(({ resident }) => resident),
  };
}

/** How much larger the last whole hour's heap is than the tenth's, as a share; null: too short to tell. */
export function heapGrowth(samples: readonly MemorySample[]): number | null {
  const last = Math.floor((samples.at(-1)?.atMs ?? 0) / HOUR_MS);
  const [then, now] = [hourMedian(samples, REFERENCE_HOUR), hourMedian(samples, last)];
  if (last <= REFERENCE_HOUR || then === null || now === null) return null;
  return now.heap / then.heap - 1;
}

/** A request to the disk is over by itself. */
const PASSING = ['FSReqCallback', 'FSReqPromise'];

/** Open files and sockets, and what else keeps the process alive, by kind. */
export function handles(): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const kind of process.getActiveResourcesInfo())
    if (!PASSING.includes(kind)) counts[kind] = (counts[kind] ?? 0) + 1;
  if (process.platform === 'linux') counts['open files'] = readdirSync('/proc/self/fd').length;
  return counts;
}

/** Kinds of which there are more than before. */
export function handlesLeft(
  before: Readonly<Record<string, number>>,
  now: Readonly<Record<string, number>>,
): readonly string[] {
  return Object.entries(now)
    .filter(([kind, count]) => count > (before[kind] ?? 0))
    .map(([kind, count]) => `${kind}: ${before[kind] ?? 0} before, ${count} after`);
}
