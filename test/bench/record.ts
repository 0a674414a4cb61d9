import { readFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { readRecording } from '../../daemon/record/reader.js';
import { readHistory } from '../../daemon/record/session/history.js';

export interface RecordRow {
  readonly name: string;
  readonly eventsPerSecond: number;
  /** Over the rate of splitting the same text into lines and JSON.parse on each, taken in turns in the same run. */
  readonly ratioToParse: number;
}

const FILE = fileURLToPath(new URL('../../recordings/eight-hour-soak.ndjson.gz', import.meta.url));
const ROUNDS = 5;

/** How fast an eight-hour session opens: the median of five rounds, in turns with unpacking and JSON.parse alone. */
export async function rows(): Promise<readonly RecordRow[]> {
  const rates = { parse: [] as number[], read: [] as number[], history: [] as number[] };
  for (let round = 0; round < ROUNDS; round += 1) {
    rates.parse.push(await rate(() => Promise.resolve(parseAll())));
    rates.read.push(await rate(readAll));
    rates.history.push(await rate(async () => (await readHistory(FILE)).readings));
  }
  const parse = median(rates.parse);
  return [
    {
      name: 'read and check, gzip',
      eventsPerSecond: median(rates.read),
      ratioToParse: median(rates.read) / parse,
    },
    {
      name: 'read, judge again and gather for the report',
      eventsPerSecond: median(rates.history),
      ratioToParse: median(rates.history) / parse,
    },
  ];
}

const EVENTS = parseAll();

function parseAll(): number {
  const lines = gunzipSync(readFileSync(FILE)).toString('utf8').trimEnd().split('\n');
  return lines.filter((line) => JSON.parse(line) !== null).length;
}

async function readAll(): Promise<number> {
  let count = 0;
  for await (const { kind } of readRecording(FILE)) if (kind === 'event') count += 1;
  return count;
}

async function rate(work: () => Promise<number>): Promise<number> {
  const startedMs = performance.now();
  if ((await work()) === 0) throw new Error('nothing was read');
  return (EVENTS / (performance.now() - startedMs)) * 1000;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
