import { normalCumulative } from '../predict/cloud/normal-distribution.js';
import { noiseDeviation } from './noise.js';
import type { Delay } from './hold.js';

/** Noise alone raises an alarm of one channel less than once in so long. */
const FALSE_ALARM_MS = 24 * 3_600_000;
/** Finer than a display's step is not known: the deviation of rounding to it (JCGM 100, 4.3.7). */
const ROUNDING = 1 / Math.sqrt(12);

/** What a delay is made from. */
export interface Noise {
  /** Running mean of the steps between two readings; null: too few readings. */
  readonly meanStep: number | null;
  readonly resolution: number;
  readonly intervalMs: number;
}

/**
 * Readings in a row that must lie beyond an edge before it counts. If the value sat at the edge, Gaussian noise of
 * deviation s would put one reading a distance d beyond it with p = Q(d / s), and n in a row with p^n; so often a day
 * as there are readings, that shall be under one: n = ln(interval / day) / ln p. Never more than `most`, the number of
 * readings for which one can wait.
 */
export function readingsNeeded(distance: number, noise: Noise, most: number): number {
  const { meanStep, resolution, intervalMs } = noise;
  if (meanStep === null) return 2;
  const deviation = Math.max(noiseDeviation(meanStep), resolution * ROUNDING);
  const exceeds = deviation === 0 ? 0 : normalCumulative(-Math.max(0, distance) / deviation);
  if (exceeds === 0) return 1;
  const needed = Math.ceil(Math.log(Math.max(1, intervalMs) / FALSE_ALARM_MS) / Math.log(exceeds));
  return Math.max(1, Math.min(most, needed));
}

/** How many readings fit into so long a time, the first one counted. */
export function readingsIn(ms: number, intervalMs: number): number {
  return 1 + Math.max(1, Math.floor(ms / Math.max(1, intervalMs)));
}

/** A person looks up no faster (common practice). */
const LOOKS_UP_MS = 3000;

/**
 * How long a condition must be clear before its alarm returns: as long as silence takes to be told, so that nothing
 * returns on less than three of the channel's readings, and long enough for a person to have seen it.
 */
export function offDelay(intervalMs: number): Delay {
  return { readings: 3, ms: Math.max(LOOKS_UP_MS, 3 * intervalMs) };
}
