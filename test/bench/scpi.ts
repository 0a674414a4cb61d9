import { performance } from 'node:perf_hooks';
import type { Capture } from '../../drivers/driver.js';
import { lineReader } from '../../drivers/lines/line-reader.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { readingMaker } from '../../drivers/reading-of.js';
import { parseReply } from '../../drivers/scpi-meter/reply.js';
import { scpiMeter } from '../../drivers/scpi-meter/scpi-meter.js';
import { scaleSamples } from '../../drivers/scpi-scope/samples.js';
import { scpiScope } from '../../drivers/scpi-scope/scpi-scope.js';
import { manualClock, type ManualClock } from '../manual-clock.js';
import { LINES, againstParser, chunksOf, type ParserRow } from './against-parser.js';
import { fullTable, READINGS_PER_SECOND, type LoadRow } from './full-table.js';

export interface ReplyRow extends ParserRow {
  readonly name: string;
}

export interface CaptureRow {
  readonly name: string;
  /** From the block's first bytes at the link to the capture, its samples a view: median. */
  readonly captureMs: number;
  /** Its samples in volts, in a Float64Array that was there: median. */
  readonly scaledMs: number;
  /** Both together; wanted: a median of 10 at most. */
  readonly leastMs: number;
  readonly medianMs: number;
  readonly mostMs: number;
  /** That median over the median time to sum the same bytes as an Int16Array, in turns. */
  readonly ratioToSum: number;
}

const POINTS = 1_000_000;
const CHUNK_BYTES = 65_536;
const ROUNDS = 15;

/** What reading the answers of SCPI instruments costs, without the instrument's own time. */
export async function rows(): Promise<readonly (ReplyRow | CaptureRow | LoadRow)[]> {
  const eachMs = { interval_ms: 1000 / READINGS_PER_SECOND };
  return [
    replies('replies of a meter', (n) => `+1.2${String(n % 100_000).padStart(5, '0')}E+01`),
    replies('replies with CR and LF', (n) => `+1.2${String(n % 100_000).padStart(5, '0')}E+01\r`),
    replies('replies with a unit', (n) => `+1.2${String(n % 100_000).padStart(5, '0')}E+01 VDC`),
    megapoint(),
    await fullTable('meters', scpiMeter, eachMs, 'scpi-meters.mjs'),
  ];
}

/** Bytes to readings, as between a question and the next. */
function replies(name: string, line: (n: number) => string): ReplyRow {
  const chunks = chunksOf(Array.from({ length: LINES }, (_, n) => `${line(n)}\n`).join(''));
  const make = readingMaker({ name: 'logic.volts', measures: 'dc-volts' });
  const read = (): void => {
    let readings = 0;
    const reader = lineReader({
      onLine(text, atMs) {
        const reply = parseReply(text, 'dc-volts');
        if (reply !== null && make(reply.value, reply.mark, atMs).value !== null) readings += 1;
      },
      onFault: (code, detail) => {
        throw new Error(`${code}: ${detail}`);
      },
    });
    for (const chunk of chunks) reader.push(Buffer.from(chunk), 0);
    if (readings !== LINES) throw new Error(`${readings} readings`);
  };
  return { name, ...againstParser(chunks, read) };
}

/** A million points in words through the whole driver, over a link that hands on a copy of each 64 KiB as it comes. */
function megapoint(): CaptureRow {
  const block = Uint8Array.from({ length: 2 * POINTS }, (_, at) => (at * 7) % 251);
  const scope = scopeWith(block);
  const volts = new Float64Array(POINTS);
  const captures: number[] = [];
  const scales: number[] = [];
  const sums: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    scope.untilAsked();
    const startedMs = performance.now();
    const capture = scope.answer();
    const capturedMs = performance.now();
    scaleSamples(capture, volts);
    scales.push(performance.now() - capturedMs);
    captures.push(capturedMs - startedMs);
    if (volts[POINTS - 1] === 0) throw new Error('the last point was not scaled');
    sums.push(timeToSum(block));
  }
  const wholes = captures.map((captureMs, round) => captureMs + (scales[round] ?? NaN));
  return {
    name: `capture of ${POINTS} points`,
    captureMs: median(captures),
    scaledMs: median(scales),
    leastMs: Math.min(...wholes),
    medianMs: median(wholes),
    mostMs: Math.max(...wholes),
    ratioToSum: median(wholes) / median(sums),
  };
}

interface BenchScope {
  /** Lets the driver ask until it wants the block. */
  untilAsked(): void;
  /** Sends the block, says that there is no error, and gives the capture that the driver made of it. */
  answer(): Capture;
}

function scopeWith(block: Uint8Array): BenchScope {
  const clock: ManualClock = manualClock();
  const { link, far } = memoryLinkPair('scope');
  const asked = answering(far, clock);
  let newest: Capture | null = null;
  const options = {
    dialect: 'ten-field',
    inputs: { 'reservoir.volts': 1 },
    sample_bits: 16,
    interval_ms: 100,
  };
  scpiScope.start({
    instrument: 'scope',
    link,
    channels: scpiScope.channelsOf(options),
    options,
    clock,
    emit: () => undefined,
    onCapture: (capture) => void (newest = capture),
  });
  return {
    untilAsked() {
      newest = null;
      for (let waitedMs = 0; !asked.takeBlockAsked(); waitedMs += 1) {
        if (waitedMs > 10_000) throw new Error('the driver does not ask for the block');
        clock.advance(1);
      }
    },
    answer() {
      far.send(Buffer.from(`#7${block.length}`));
      for (let at = 0; at < block.length; at += CHUNK_BYTES) far.send(block.subarray(at, at + CHUNK_BYTES));
      far.send(Buffer.from('\n'));
      clock.advance(1);
      if (newest === null) throw new Error('the driver made no capture');
      return newest;
    },
  };
}

/** Answers everything but the question for the block, a millisecond after it was asked. */
function answering(far: MemoryFarEnd, clock: ManualClock): { takeBlockAsked(): boolean } {
  const answers: Readonly<Record<string, string>> = {
    '*IDN?': 'SIGNAL CABIN,BENCH SCOPE,0,1.0',
    '*ESR?': '1',
    'SYST:ERR?': '+0,"No error"',
    ':CHAN1:COUP?': 'DC',
    ':CHAN1:PROB?': '+1.0E+01',
    ':WAV:PRE?': `+1,+0,+${POINTS},+1,+1.000E-08,-5.000E-03,+0,+4.000E-04,+1.2E+01,+32768`,
  };
  let isBlockAsked = false;
  far.onBytes((bytes) => {
    const message = Buffer.from(bytes).toString().trim();
    const answer = answers[message];
    if (message === ':WAV:DATA?') isBlockAsked = true;
    if (answer !== undefined) clock.after(1, () => far.send(Buffer.from(`${answer}\n`)));
  });
  return {
    takeBlockAsked() {
      const was = isBlockAsked;
      isBlockAsked = false;
      return was;
    },
  };
}

function timeToSum(block: Uint8Array): number {
  const startedMs = performance.now();
  const words = new Int16Array(block.buffer, block.byteOffset, block.length / 2);
  let sum = 0;
  for (let at = 0; at < words.length; at += 1) sum += words[at] as number;
  const elapsedMs = performance.now() - startedMs;
  if (sum === 0) throw new Error('nothing was summed');
  return elapsedMs;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
