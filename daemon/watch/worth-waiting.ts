import type { Draft } from './draft.js';
import type { PointState } from './state.js';

/** An alarm isn't kept waiting for more: for a slower instrument, or for what it may turn out to be, ms. */
export const LONGEST_WAIT_MS = 10_000;

/** Whether an instrument that nobody types for reads the test point in time, and isn't silent now. */
export function readsInTime({ plan, channels }: Draft, { channel }: PointState): boolean {
  const { intervalMs = Infinity, typed } = plan.channels[channel ?? -1] ?? {};
  return intervalMs <= LONGEST_WAIT_MS && typed !== true && channels[channel ?? -1]?.stale === false;
}
