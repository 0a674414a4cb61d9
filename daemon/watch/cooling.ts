import type { PointPrediction } from '../predict/prediction.js';
import type { Draft } from './draft.js';
import { isTemperature } from './sample.js';

/** A temperature that was allowed to be so high until then, under what was expected before. */
export interface Cooling {
  readonly from: number;
  readonly sinceMs: number;
}

/** A part of which no time constant is known (common practice: five to fifteen minutes on an ordinary heatsink). */
const USUAL_S = 900;
/** The time constant is known to about so much, and the air in the box follows later still (common practice). */
const SLOWER = 1.5;
/** A person names a load a little before they switch. */
const SWITCHES_WITHIN_MS = 10_000;
/** Nearer to its band, a part has cooled. */
const COOLED_K = 0.5;

/**
 * The band of a temperature while the part still cools down from a heavier load. Newton's law of cooling: what it is
 * above where it goes falls by exp(-t / time constant), the slowest of the part's.
 */
export function bandWhileCooling(draft: Draft, prediction: PointPrediction): PointPrediction {
  const cooling = draft.cooling[prediction.id];
  if (cooling === undefined) return prediction;
  const above = stillAbove(draft, prediction, cooling);
  return above < COOLED_K ? prediction : { ...prediction, high: prediction.high + above };
}

/** To be called when other bands stand because the load or the step is another, with the bands before them. */
export function beginCooling(draft: Draft, before: Readonly<Record<string, PointPrediction>>): void {
  const found: Record<string, Cooling> = {};
  for (const now of Object.values(draft.prediction.points)) {
    const previous = before[now.id];
    if (!isTemperature(now.unit) || previous === undefined) continue;
    const from = bandWhileCooling(draft, previous).high;
    if (from - now.high >= COOLED_K) found[now.id] = { from, sinceMs: draft.atMs };
  }
  draft.cooling = found;
}

function stillAbove(
  { atMs, plan }: Draft,
  { id, high }: PointPrediction,
  { from, sinceMs }: Cooling,
): number {
  const figures = plan.prediction.parts[id.slice(0, id.lastIndexOf('.'))];
  const known = figures?.['heat_time_constant_s'] ?? USUAL_S;
  const seconds = Math.max(0, atMs - sinceMs - SWITCHES_WITHIN_MS) / 1000;
  return (from - high) * Math.exp(-seconds / (SLOWER * known));
}
