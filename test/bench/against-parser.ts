import { performance } from 'node:perf_hooks';
import { ReadlineParser } from '@serialport/parser-readline';

export interface ParserRow {
  readonly linesPerSecond: number;
  /** This rate over the rate of parser-readline alone on the same chunks, in turns; wanted: 0.6 for devices that speak by themselves. */
  readonly ratioToParser: number;
}

/** How many lines the chunks hold. */
export const LINES = 200_000;
const ROUNDS = 9;
const CHUNK_BYTES = 16_384;

/** How fast `work` goes through the chunks. */
export function againstParser(chunks: readonly Buffer[], work: () => void): ParserRow {
  const parserRates: number[] = [];
  const rates: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    parserRates.push(rate(() => throughParser(chunks)));
    rates.push(rate(work));
  }
  const linesPerSecond = median(rates);
  return { linesPerSecond, ratioToParser: linesPerSecond / median(parserRates) };
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

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
