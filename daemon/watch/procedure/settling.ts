import type { Forecast } from '../forecast/forecast.js';

/** How long a test point has stood still: since when it stayed by one value. */
export interface Trace {
  readonly value: number;
  readonly sinceMs: number;
  readonly count: number;
}

/** One more number of a test point, with what tells whether it stands still. */
export interface Stand {
  readonly atMs: number;
  readonly value: number;
  /** Within its noise it hasn't moved. */
  readonly noise: number;
  readonly isTemperature: boolean;
  /** A person reads the meter and waits until it stands still. */
  readonly typed: boolean;
  readonly forecast: Forecast | null;
}

const STILL_MS = 3000;
const LEAST_READINGS = 3;
const WARM_STILL_MS = 30_000;
/** Where nothing tells where a temperature is going, a person waits so long (common practice). */
const UNTOLD_STILL_MS = 180_000;
const WARM_KELVIN = 1;
/** Closer than this to where it is going nobody sees it move. */
const ARRIVED_KELVIN = 2;

export function nextTrace(before: Trace | undefined, { atMs, value, noise, isTemperature }: Stand): Trace {
  const most = isTemperature ? Math.max(WARM_KELVIN, noise) : noise;
  if (before === undefined || Math.abs(value - before.value) > most) {
    return { value, sinceMs: atMs, count: 1 };
  }
  return { ...before, count: before.count + 1 };
}

/** Whether the point stands still: volts after seconds, a temperature where its forecast says that it has arrived. */
export function isSettled(trace: Trace, stand: Stand): boolean {
  const stillMs = stand.atMs - trace.sinceMs;
  if (!stand.isTemperature) return stand.typed || (stillMs >= STILL_MS && trace.count >= LEAST_READINGS);
  if (trace.count < 2) return false;
  if (stand.forecast === null) return stillMs >= UNTOLD_STILL_MS;
  const left = Math.abs(stand.forecast.settled.typical - stand.value);
  return stillMs >= WARM_STILL_MS && left <= ARRIVED_KELVIN;
}
