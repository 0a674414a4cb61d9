import type { PointPrediction, PointUnit } from '../predict/prediction.js';
import type { Draft } from './draft.js';
import { predictionOf, type Sample } from './sample.js';

const DRIVEN_UNITS: readonly PointUnit[] = ['V', 'Vrms', 'Vpp', 'A', 'Arms', 'W'];
/** A 230 V winding on 115 V still gives half, so this low means off. */
const OFF_SHARE = 0.25;

/**
 * Whether the supply looks switched off: everything driven that is measured now, this sample with it, reads under
 * a quarter of the least that is predicted. Then a value that is too small says nothing about the supply. A point
 * whose channel fell silent counts with its last value: silence doesn't say that it was switched off.
 */
export function supplyLooksOff(draft: Draft, sample: Sample): boolean {
  if (!looksOff(sample.prediction, sample.value)) return false;
  return draft.points.every((point) => {
    if (point.id === sample.point.id || point.value === null || point.channel === null) return true;
    const prediction = predictionOf(draft.prediction, point.id);
    return prediction === undefined || leastMagnitude(prediction) === 0 || looksOff(prediction, point.value);
  });
}

/** Whether an instrument that nobody types for measures something that tells on from off. */
export function tellsOnFromOff(draft: Draft): boolean {
  return draft.points.some(({ id, channel, value }) => {
    const prediction = predictionOf(draft.prediction, id);
    if (channel === null || value === null || prediction === undefined) return false;
    return draft.plan.channels[channel]?.typed !== true && leastMagnitude(prediction) !== 0;
  });
}

/** The same of all that is measured now; false where nothing is that tells on from off. */
export function everythingLooksOff(draft: Draft): boolean {
  const driven = draft.points.flatMap(({ id, channel, value }) => {
    const prediction = predictionOf(draft.prediction, id);
    if (channel === null || value === null || prediction === undefined) return [];
    return leastMagnitude(prediction) === 0 ? [] : [looksOff(prediction, value)];
  });
  return driven.length > 0 && driven.every(Boolean);
}

/**
 * Whether anything driven that is measured showed that power is on. After a while in which nothing ran every channel
 * is stale, so the last values count.
 */
export function supplyLookedOn(draft: Draft): boolean {
  return Object.keys(livePoints(draft, 'stale ones too')).length > 0;
}

/** Test points that show that power is on, with their last values. */
export function livePoints(
  draft: Draft,
  which: 'fresh ones' | 'stale ones too' = 'fresh ones',
): Record<string, number> {
  const live = draft.points.flatMap((point): [string, number][] => {
    const prediction = predictionOf(draft.prediction, point.id);
    if (prediction === undefined || point.value === null || point.channel === null) return [];
    const isLive = leastMagnitude(prediction) > 0 && !looksOff(prediction, point.value);
    const counts = which === 'stale ones too' || draft.channels[point.channel]?.stale === false;
    return isLive && counts ? [[point.id, point.value]] : [];
  });
  return Object.fromEntries(live);
}

function looksOff(prediction: PointPrediction, value: number): boolean {
  return Math.abs(value) < OFF_SHARE * leastMagnitude(prediction);
}

/** The smallest magnitude in the band; 0 when the band says nothing about on and off. */
function leastMagnitude({ unit, low, high }: PointPrediction): number {
  if (!DRIVEN_UNITS.includes(unit) || low * high <= 0) return 0;
  return Math.min(Math.abs(low), Math.abs(high));
}
