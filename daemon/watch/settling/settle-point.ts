import type { PointUnit } from '../../predict/prediction.js';
import type { Draft } from '../draft.js';
import { recogniseLoad } from '../load-state.js';
import { noiseDeviation } from '../noise.js';
import { isTemperature, type Sample } from '../sample.js';
import {
  followSettling,
  standingAtOnce,
  type Heard,
  type Least,
  type Settling,
  type Standing,
} from './settling.js';

const LEAST_READINGS = 4;
const LEAST_MS = 1000;
/** Of the channel's intervals, so that a slow meter's reading isn't taken for the same one. */
const LEAST_INTERVALS = 2;
/** A part that warms up stands still for every single second of it. */
const TEMPERATURE_MS = 120_000;
/** A supply that never stands still is itself a finding. While a probe still looks for its place that takes longer. */
const PATIENCE_MS = 10_000;
const PATIENCE_INTERVALS = 10;
const PATIENCE_IN_AIR_MS = 60_000;

/** Follows a point's settling through one more number, and tells when it has settled on another value. */
export function settlePoint(draft: Draft, sample: Sample, intervalMs: number): Settling {
  const before = sample.point.settling;
  const least = leastOf(sample.prediction.unit, intervalMs);
  const after = followSettling(before, heardOf(sample), draft.atMs, least);
  if (after === before || after.kind === 'moving' || after.toldValue !== after.value) return after;
  if (before?.kind === 'moving' && before.stoodAt === after) return after;
  tellSettled(draft, sample, after);
  return after;
}

/** A reading that has stood still by itself: a person read it off, or it was taken over many cycles of the mains. */
export function settleAtOnce(draft: Draft, sample: Sample): Settling {
  const before = sample.point.settling;
  const after = standingAtOnce(heardOf(sample), draft.atMs);
  if (before?.kind === 'standing' && Math.abs(after.value - before.toldValue) <= after.tolerance)
    return before;
  tellSettled(draft, sample, after);
  return after;
}

function heardOf({ point, value, guard, resolution, meanStep }: Sample): Heard {
  const noise = meanStep === null ? 0 : noiseDeviation(meanStep);
  return { value, previous: point.value, guard, resolution, noise };
}

function tellSettled(draft: Draft, { point, guard }: Sample, at: Standing): void {
  draft.tell({
    kind: 'settled',
    atMs: draft.atMs,
    point: point.id,
    value: at.value,
    standardUncertainty: Math.hypot(guard / 2, at.deviationOfMean),
    count: at.count,
  });
  recogniseLoad(draft, { ...point, guard }, at);
}

/**
 * Whether a reading tells something: not while a probe finds its contact, floats or changes its range. A temperature
 * and a value that drifts always do.
 */
export function isTelling(settling: Settling, unit: PointUnit, atMs: number, intervalMs: number): boolean {
  if (settling.kind === 'standing' || settling.because === 'drifting' || isTemperature(unit)) return true;
  const patienceMs =
    settling.stoodAt === null ? PATIENCE_IN_AIR_MS : Math.max(PATIENCE_MS, PATIENCE_INTERVALS * intervalMs);
  return atMs - settling.sinceMs > patienceMs;
}

function leastOf(unit: PointUnit, intervalMs: number): Least {
  if (isTemperature(unit)) return { readings: LEAST_READINGS, ms: TEMPERATURE_MS };
  return { readings: LEAST_READINGS, ms: Math.max(LEAST_MS, LEAST_INTERVALS * intervalMs) };
}
