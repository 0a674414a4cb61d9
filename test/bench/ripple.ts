import { performance } from 'node:perf_hooks';
import { analyseRipple } from '../../daemon/watch/ripple/analyse.js';
import { simulateCapture, type SimulatedCapture } from '../daemon/watch/ripple/simulated-capture.js';

export interface RippleRow {
  readonly name: string;
  readonly points: number;
  readonly milliseconds: number;
  /** Time of the analysis over that of sorting 100 000 numbers, taken in turns in the same run. */
  readonly ratioToSorting: number;
}

const ROUNDS = 15;
const SORTED = 100_000;

/** How long a capture's analysis takes: the median of fifteen rounds, analysis and sorting in turns. */
export function rows(): readonly RippleRow[] {
  return [
    measure('both halves', 100_000, false),
    measure('a half missing', 100_000, true),
    measure('both halves', 2_000, false),
  ];
}

function measure(name: string, points: number, missingHalf: boolean): RippleRow {
  const capture = simulateCapture(1, {
    missingHalf,
    bits: 8,
    noise: 0.02,
    extra: 'bursts',
    points,
    periods: 10,
  });
  const numbers = Float64Array.from({ length: SORTED }, (_, i) => (i * 7919) % SORTED);
  const analysing: number[] = [];
  const sorting: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    sorting.push(time(() => numbers.slice().sort()));
    analysing.push(time(() => analyse(capture)));
  }
  const milliseconds = median(analysing);
  return { name, points, milliseconds, ratioToSorting: milliseconds / median(sorting) };
}

function analyse({ counts, scale }: SimulatedCapture): void {
  if (analyseRipple(counts, scale).kind !== 'found') throw new Error('no ripple was found');
}

function time(work: () => void): number {
  const startedMs = performance.now();
  work();
  return performance.now() - startedMs;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
