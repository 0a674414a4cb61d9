import type { Draft } from './draft.js';
import { predictionOf } from './sample.js';

/** What is known of a test point: its last reading, or else what is predicted. Signed, in its unit. */
export interface KnownValue {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  readonly measured: boolean;
}

/** The value that a test point has by its own probe, as far as it isn't stale; null where there is none. */
export function measuredAt(draft: Draft, point: string): number | null {
  const state = draft.points[draft.pointAt(point)];
  if (state === undefined || state.channel === null || state.value === null) return null;
  return draft.channels[state.channel]?.stale === false ? state.value : null;
}

/** Measured where it is, predicted where it isn't; null for a point that the design doesn't have. */
export function knownAt(draft: Draft, point: string): KnownValue | null {
  const prediction = predictionOf(draft.prediction, point);
  const value = measuredAt(draft, point);
  if (value !== null) return { low: value, typical: value, high: value, measured: true };
  if (prediction === undefined) return null;
  const { low, typical, high } = prediction;
  return { low, typical, high, measured: false };
}
