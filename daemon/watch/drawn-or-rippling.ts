import type { Draft } from './draft.js';
import type { Hold } from './hold.js';
import { predictionOf, type Sample } from './sample.js';
import { isTelling } from './settling/settle-point.js';

/** The current of the winding: what all rails draw together. */
export const WINDING = 'transformer.amps';
/** Where the charges of the rectifier show. */
const RIPPLES: readonly string[] = ['reservoir.ripple', 'negative-reservoir.ripple'];

/** The ripple of a reservoir goes with what is drawn; more than this beyond it, something else has grown it. */
const MORE_RIPPLE = 1.25;
/** One isn't kept waiting for a slower instrument, ms. */
const LONGEST_WAIT_MS = 10_000;

/** A value above its band. */
interface TooMuch {
  readonly value: number;
  readonly high: number;
}

/** Whether the test point is the ripple of a reservoir. */
export function isReservoirRipple(point: string): boolean {
  return RIPPLES.includes(point);
}

/**
 * Whether too much ripple comes of too much being drawn. A reservoir loses I·t of charge between two pulses, so that its
 * ripple grows as the current does; with half of the pulses or of the capacitance gone it doubles and more, and the
 * winding's RMS current grows by a third at most (from memory).
 */
export function isDrawn(amps: TooMuch, ripple: TooMuch): boolean {
  return ripple.value / ripple.high <= (MORE_RIPPLE * amps.value) / amps.high;
}

/**
 * Whether this alarm had better wait: too much ripple and too much current come together, and so do too few volts and too
 * little current; the one that explains the other is about to be told. Never longer than that one's own delay.
 */
export function waitsForOther(draft: Draft, sample: Sample, hold: Hold): boolean {
  const { id } = sample.point;
  const { value } = sample;
  const { low, high } = sample.prediction;
  if (id === WINDING && value < low) return isPending(draft, 'reservoir.volts', hold, () => true);
  if (value <= high) return false;
  if (id === WINDING)
    return RIPPLES.some((ripple) =>
      isPending(draft, ripple, hold, (other) => !isDrawn({ value, high }, other)),
    );
  return isReservoirRipple(id) && isPending(draft, WINDING, hold, (other) => isDrawn(other, { value, high }));
}

/** Not read since the trouble began, or still moving, or on its way to being told and what explains this. */
function isPending(draft: Draft, id: string, hold: Hold, explains: (other: TooMuch) => boolean): boolean {
  const point = draft.points[draft.pointAt(id)];
  const prediction = predictionOf(draft.prediction, id);
  if (point === undefined || prediction === undefined || point.channel === null) return false;
  const { intervalMs = Infinity, typed } = draft.plan.channels[point.channel] ?? {};
  if (intervalMs > LONGEST_WAIT_MS || typed === true || draft.channels[point.channel]?.stale !== false)
    return false;
  if (point.atMs === null || point.atMs < hold.sinceMs || point.value === null || point.settling === null)
    return true;
  if (!isTelling(point.settling, prediction.unit, draft.atMs, intervalMs)) return true;
  return point.outside !== null && explains({ value: point.value, high: prediction.high });
}
