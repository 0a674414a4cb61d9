import { normalCumulative } from '../../predict/cloud/normal-distribution.js';
import { shownAfter, type Cell } from './cells.js';
import type { WarmingFit } from './fit.js';
import { timeUntil } from './heating.js';

/** Where a temperature is going. Ranges cover 90 %. */
export interface Forecast {
  /** Degrees C. */
  readonly settled: Range;
  /** The slowest, s. */
  readonly timeConstantS: Range;
  /** One for each limit above it. */
  readonly crossings: readonly Crossing[];
}

export interface Range {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

export interface Crossing {
  /** Degrees C. */
  readonly limit: number;
  /** That the limit is reached if nothing changes. */
  readonly probability: number;
  /** Seconds from the newest block, where it is reached; null when that is unlikely. */
  readonly inS: Range | null;
}

/** Points and weights that stand for a normal distribution (three-point Gauss-Hermite rule). */
const WITHIN_A_CELL = [
  [-Math.sqrt(3), 1 / 6],
  [0, 2 / 3],
  [Math.sqrt(3), 1 / 6],
] as const;

const LIKELY = 0.5;
/** Cells of less weight move no time and no next value. */
const COUNTS = 1e-3;
/** 5 % and 95 % of a normal distribution lie this many deviations from its mean. */
export const DEVIATIONS_90 = 1.6449;

export function forecastOf(cells: readonly Cell[], limits: readonly number[]): Forecast {
  return {
    settled: settledOf(cells),
    timeConstantS: quantiles(cells.map(({ tau, weight }) => ({ value: tau, weight }))),
    crossings: limits.map((limit) => crossingOf(cells, limit)),
  };
}

/** Mean and deviation of the newest block's successor, `seconds` later; what the fit expects next. */
export function nextOf(
  fit: WarmingFit,
  cells: readonly Cell[],
  atMs: number,
): { readonly celsius: number; readonly deviationK: number } {
  const seconds = (atMs - fit.sinceMs) / 1000 - fit.ageS;
  let counted = 0;
  let sum = 0;
  let square = 0;
  for (const cell of cells) {
    const { weight } = cell;
    if (weight < COUNTS) continue;
    const value = shownAfter(fit, cell, seconds);
    counted += weight;
    sum += weight * value;
    square += weight * value * value;
  }
  const celsius = sum / counted;
  return { celsius, deviationK: Math.sqrt(Math.max(0, square / counted - celsius * celsius)) };
}

export function settledOf(cells: readonly Cell[]): Range {
  let mean = 0;
  let square = 0;
  for (const { settledC, settledVariance, weight } of cells) {
    mean += weight * settledC;
    square += weight * (settledC * settledC + settledVariance);
  }
  const reach = DEVIATIONS_90 * Math.sqrt(Math.max(0, square - mean * mean));
  return { low: mean - reach, typical: mean, high: mean + reach };
}

function crossingOf(cells: readonly Cell[], limit: number): Crossing {
  let probability = 0;
  for (const { settledC, settledVariance, weight } of cells) {
    probability += weight * normalCumulative((settledC - limit) / Math.sqrt(settledVariance));
  }
  if (probability < LIKELY) return { limit, probability, inS: null };
  const times: Weighted[] = [];
  for (const cell of cells) if (cell.weight >= COUNTS) addTimes(times, cell, limit);
  return { limit, probability, inS: times.length === 0 ? null : quantiles(times) };
}

interface Weighted {
  readonly value: number;
  readonly weight: number;
}

/** Adds the seconds until the cell crosses the limit, where it does. */
function addTimes(times: Weighted[], cell: Cell, limit: number): void {
  const { heating, tau, baseC, riseK, weight } = cell;
  const deviationK = Math.sqrt(cell.settledVariance);
  const passed = timeUntil(heating, cell.warmed);
  for (const [deviations, share] of WITHIN_A_CELL) {
    const goal = (limit - baseC) / (riseK + deviations * deviationK);
    if (!(goal > 0 && goal < 1)) continue;
    times.push({
      value: Math.max(0, timeUntil(heating, goal) - passed) * tau,
      weight: weight * share,
    });
  }
}

function quantiles(values: readonly Weighted[]): Range {
  const sorted = values.toSorted((a, b) => a.value - b.value);
  const whole = sorted.reduce((sum, { weight }) => sum + weight, 0);
  const at = (share: number): number => {
    let sum = 0;
    for (const { value, weight } of sorted) {
      sum += weight;
      if (sum >= share * whole) return value;
    }
    return sorted.at(-1)?.value ?? NaN;
  };
  return { low: at(0.05), typical: at(0.5), high: at(0.95) };
}
