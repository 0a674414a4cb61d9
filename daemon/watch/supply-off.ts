import type { PointPrediction, PointUnit } from '../predict/prediction.js';
import type { Draft } from './draft.js';
import type { Hold } from './hold.js';
import { predictionOf, type Sample } from './sample.js';
import type { PointState } from './state.js';

const DRIVEN_UNITS: readonly PointUnit[] = ['V', 'Vrms', 'Vpp', 'A', 'Arms', 'W'];
/** A 230 V winding on 115 V still gives half, so this low means off. */
const OFF_SHARE = 0.25;
/** What was read longer ago says nothing about a supply that was switched off meanwhile, ms. */
const FRESH_MS = 3000;

/**
 * Whether the supply looks switched off: everything driven that is measured now, this sample with it, reads under
 * a quarter of the least that is predicted. Then a value that is too small says nothing about the supply. What was read
 * before the value fell, or long ago, waits for its next reading where another is fresh. A point whose channel fell silent counts with
 * its last value: silence doesn't say that it was switched off.
 * @param hold since when the value is too small; null: only now
 */
export function supplyLooksOff(draft: Draft, sample: Sample, hold: Hold | null): boolean {
  if (!looksOff(sample.prediction, sample.value)) return false;
  const others = draft.points.filter((point) => {
    if (point.id === sample.point.id || point.value === null || point.channel === null) return false;
    const prediction = predictionOf(draft.prediction, point.id);
    return prediction !== undefined && leastMagnitude(prediction) > 0;
  });
  const telling = others.filter((point) => isFresh(draft, point, hold) || isSilent(draft, point));
  return (telling.length > 0 ? telling : others).every(({ id, value }) => {
    const prediction = predictionOf(draft.prediction, id);
    return prediction === undefined || value === null || looksOff(prediction, value);
  });
}

function isFresh({ atMs }: Draft, point: PointState, hold: Hold | null): boolean {
  return point.atMs !== null && atMs - point.atMs <= FRESH_MS && (hold === null || point.atMs > hold.sinceMs);
}

function isSilent({ channels }: Draft, { channel }: PointState): boolean {
  return channel !== null && channels[channel]?.stale === true;
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

/** Whether the load was named or recognised within so long, anything driven jumps just now, or everything is off. */
export function wasSwitched(draft: Draft, withinMs: number): boolean {
  const { atMs, load } = draft;
  if (load.sinceMs > 0 && atMs - load.sinceMs < withinMs) return true;
  return everythingLooksOff(draft) || draft.points.some((point) => jumps(draft, point));
}

function jumps(draft: Draft, { id, channel, settling }: PointState): boolean {
  const prediction = predictionOf(draft.prediction, id);
  if (channel === null || settling?.kind !== 'moving' || prediction === undefined) return false;
  return DRIVEN_UNITS.includes(prediction.unit) && settling.because === 'jumping';
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
