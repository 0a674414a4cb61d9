import { performance } from 'node:perf_hooks';
import { ReadlineParser } from '@serialport/parser-readline';

/**
 * `linesPerSecond` is a median. The ratios are each round's rate over that of parser-readline alone on the same chunks
 * just before; wanted: a median of at least 0.6.
 */
export interface ParserRow {
  readonly linesPerSecond: number;
  readonly leastRatio: number;
  readonly medianRatio: number;
  readonly mostRatio: number;
}

/** How many lines the chunks hold. */
export const LINES = 200_000;
const ROUNDS = 15;
/** Rounds before the ones that count, in which the compiler settles. */
const WARM_ROUNDS = 2;
const CHUNK_BYTES = 16_384;

/** How fast `work` goes through the chunks, which hold {@link LINES} lines. */
export function againstParser(chunks: readonly Buffer[], work: () => void): ParserRow {
  const rates: number[] = [];
  const ratios: number[] = [];
  for (let round = -WARM_ROUNDS; round < ROUNDS; round += 1) {
    const parserRate = rate(() => throughParser(chunks));
    const ownRate = rate(work);
    if (round < 0) continue;
    rates.push(ownRate);
    ratios.push(ownRate / parserRate);
  }
  return {
    linesPerSecond: Math.round(median(rates)),
    leastRatio: rounded(Math.min(...ratios)),
    medianRatio: rounded(median(ratios)),
    mostRatio: rounded(Math.max(...ratios)),
  };
}

export function chunksOf(text: string): readonly Buffer[] {
  const bytes = Buffer.from(text);
  const count = Math.ceil(bytes.length / CHUNK_BYTES);
  return Array.from({ length: count }, (_, at) => bytes.subarray(at * CHUNK_BYTES, (at + 1) * CHUNK_BYTES));
}

function throughParser(chunks: readonly Buffer[]): void {
  const parser = new ReadlineParser();
  let lines = 0;
  parser.on('data', () => void (lines += 1));
  parser.read(0); // hands lines over within `write`, as the driver has it
  for (const chunk of chunks) parser.write(chunk);
  if (lines !== LINES) throw new Error(`the parser gave ${lines} lines`);
}

function rate(work: () => void): number {
  const startedMs = performance.now();
  work();
  return (LINES / (performance.now() - startedMs)) * 1000;
}

function rounded(ratio: number): number {
  return Math.round(ratio * 100) / 100;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
