import type { Draft } from './draft.js';
import { measuredAt } from './known-value.js';
import { predictionOf, type Sample } from './sample.js';
import type { PointState } from './state.js';
import { livePoints } from './supply-off.js';

/** Where a part warms by less, its probe could lie beside it all the same, K. */
const LEAST_RISE_K = 8;
/**
 * Of the least rise that is predicted. A bead in the air beside a hot part shows a tenth of it (from memory), and what the
 * air in the box has warmed.
 */
const COLD_SHARE = 0.5;
/** After so many time constants a part has come 78 % of its way, and 53 % where it is twice as slow as predicted (Newton's law). */
const TIME_CONSTANTS = 1.5;
/** A part of which no time constant is known (common practice: five to fifteen minutes on an ordinary heatsink), s. */
const USUAL_S = 900;
const SHORTEST_S = 300;
const AIR = 'ambient.air';

/**
 * Whether a part that is colder than predicted should long be warm: power is seen to be on, its load stands, and the time
 * that it takes to warm has passed since.
 */
export function staysCold(draft: Draft, { point, prediction, value, guard }: Sample): boolean {
  const { atMs, load, offAtMs } = draft;
  if (atMs - Math.max(load.sinceMs, offAtMs ?? 0) < timeToWarmMs(draft, point)) return false;
  const air = roomAir(draft, point);
  if (air === undefined || prediction.low - air < LEAST_RISE_K) return false;
  if (value + guard >= air + COLD_SHARE * (prediction.low - air)) return false;
  return Object.keys(livePoints(draft)).length > 0;
}

function timeToWarmMs({ plan }: Draft, { id }: PointState): number {
  const figures = plan.prediction.parts[id.slice(0, id.lastIndexOf('.'))];
  return 1000 * Math.max(SHORTEST_S, TIME_CONSTANTS * (figures?.['heat_time_constant_s'] ?? USUAL_S));
}

/** Degrees C: measured, or what the probe showed before the part was heated, or as predicted. */
function roomAir(draft: Draft, { following }: PointState): number | undefined {
  return measuredAt(draft, AIR) ?? following?.airC ?? predictionOf(draft.prediction, AIR)?.typical;
}
