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
 * Whether the supply looks switched off: everything driven that is measured now, this sample with it, reads under a
 * quarter of the least that is predicted. Then a value that is too small says nothing about the supply. What was read
 * before the value fell, or long ago, or is falling still, waits for its next reading where another tells. A point whose
 * channel fell silent counts with its last value: silence doesn't say that it was switched off.
 * @param hold since when the value is too small; null: only now
 */
export function supplyLooksOff(draft: Draft, sample: Sample, hold: Hold | null): boolean {
  if (!looksOff(sample.prediction, sample.value)) return false;
  const others = telling(draft, ({ id }) => id !== sample.point.id);
  const heard = others.filter(({ point }) => isFresh(draft, point, hold) || isSilent(draft, point));
  const decided = heard.filter(({ point, isOff }) => isOff || !jumps(draft, point));
  const asked = [decided, heard, others].find(({ length }) => length > 0) ?? [];
  return asked.every(({ isOff }) => isOff);
}

interface Telling {
  readonly point: PointState;
  readonly isOff: boolean;
}

/**
 * Everything driven that is measured, of the points asked for. Ripple counts only where nothing else does: a probe's
 * noise and a discharging capacitor look like a little of it.
 */
function telling(draft: Draft, isAsked: (point: PointState) => boolean): readonly Telling[] {
  const found = draft.points.flatMap((point): (Telling & { isRipple: boolean })[] => {
    if (point.channel === null || point.value === null || !isAsked(point)) return [];
    const prediction = predictionOf(draft.prediction, point.id);
    if (prediction === undefined || leastMagnitude(prediction) === 0) return [];
    const isOff = looksOff(prediction, point.value);
    return [{ point, isOff, isRipple: point.id.endsWith('.ripple') }];
  });
  const steady = found.filter(({ isRipple }) => !isRipple);
  return steady.length > 0 ? steady : found;
}

function isFresh({ atMs }: Draft, point: PointState, hold: Hold | null): boolean {
  return point.atMs !== null && atMs - point.atMs <= FRESH_MS && (hold === null || point.atMs > hold.sinceMs);
}

function isSilent({ channels }: Draft, { channel }: PointState): boolean {
  return channel !== null && channels[channel]?.stale === true;
}

/** Whether an instrument that nobody types for measures something that tells on from off. */
export function tellsOnFromOff(draft: Draft): boolean {
  return telling(draft, ({ channel }) => draft.plan.channels[channel ?? -1]?.typed !== true).length > 0;
}

/** The same of all that is measured now; false where nothing is that tells on from off. */
export function everythingLooksOff(draft: Draft): boolean {
  const driven = telling(draft, () => true);
  return driven.length > 0 && driven.every(({ isOff }) => isOff);
}

/** Remembers when the supply last looked switched off, from one more number. */
export function noteOff(draft: Draft, { prediction, value }: Sample): void {
  if (looksOff(prediction, value) && everythingLooksOff(draft)) draft.offAtMs = draft.atMs;
}

/** Whether within so long the load was named or recognised or the supply was off, or anything driven jumps just now. */
export function wasSwitched(draft: Draft, withinMs: number): boolean {
  const { atMs, load, offAtMs } = draft;
  if (load.sinceMs > 0 && atMs - load.sinceMs < withinMs) return true;
  if (offAtMs !== null && atMs - offAtMs < withinMs) return true;
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
  const counts = ({ channel }: PointState): boolean =>
    which === 'stale ones too' || draft.channels[channel ?? -1]?.stale === false;
  const live = telling(draft, counts).filter(({ isOff }) => !isOff);
  return Object.fromEntries(live.map(({ point }) => [point.id, point.value ?? 0]));
}

/** Whether one value is as small as in a supply that is switched off. */
export function looksOff(prediction: PointPrediction, value: number): boolean {
  return Math.abs(value) < OFF_SHARE * leastMagnitude(prediction);
}

/** The smallest magnitude in the band; 0 when the band says nothing about on and off. */
function leastMagnitude({ unit, low, high }: PointPrediction): number {
  if (!DRIVEN_UNITS.includes(unit) || low * high <= 0) return 0;
  return Math.min(Math.abs(low), Math.abs(high));
}
