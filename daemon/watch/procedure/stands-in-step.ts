import { goingOf } from '../forecast/going.js';
import type { Settling } from '../settling/settling.js';
import type { PointState } from '../state.js';

/** A rail that comes up in stages stands for a moment in each of them. */
const STILL_MS = 3000;
/** Until a part shows that its surroundings have changed: another load, the lid (common practice). */
const WARM_STILL_MS = 120_000;
/** The same where a forecast says besides that there is nothing left to come. */
const TOLD_STILL_MS = 30_000;

/** What is looked at, and since when its readings belong to the step. */
export interface InStep {
  readonly isTemperature: boolean;
  /** A person reads the meter and waits until it stands still. */
  readonly typed: boolean;
  readonly fromMs: number;
  readonly atMs: number;
}

/** Whether a test point stands still, and has done so for long enough in this step. */
export function standsInStep(
  { settling, forecast, value }: PointState,
  { isTemperature, typed, fromMs, atMs }: InStep,
): boolean {
  if (settling === null || value === null) return false;
  if (typed) return true;
  const stillMs = atMs - Math.max(fromMs, stillSinceMs(settling));
  const stands = settling.kind === 'standing';
  if (!isTemperature) return stands && stillMs >= STILL_MS;
  if (stands && stillMs >= WARM_STILL_MS) return true;
  return forecast !== null && goingOf(forecast, value) === 'arrived' && stillMs >= TOLD_STILL_MS;
}

function stillSinceMs(settling: Settling): number {
  return settling.kind === 'standing' ? settling.sinceMs : settling.stretch.fromMs;
}
