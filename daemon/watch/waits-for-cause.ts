import type { AlarmCause } from './alarm.js';
import { explains } from './causes.js';
import type { Draft } from './draft.js';
import type { Hold } from './hold.js';
import { predictionOf, type Sample } from './sample.js';
import { isTelling } from './settling/settle-point.js';
import type { PointState } from './state.js';
import { readsInTime } from './worth-waiting.js';

/**
 * Whether this alarm had better wait, because another one that would explain it is about to be told, or may be once its
 * point has been read. What explains another is never explained by it, so that no two wait for each other for long.
 */
export function waitsForCause(draft: Draft, sample: Sample, hold: Hold): boolean {
  const { low, high } = sample.prediction;
  const mine = outside(sample.point.id, sample.value, low, high);
  return draft.points.some(
    (point) =>
      point.id !== sample.point.id &&
      possibleCauses(draft, point, hold).some((cause) => explains(cause, mine, draft.plan.supply)),
  );
}

type Possible = Parameters<typeof explains>[0];

/** Outside on either side where it isn't known yet; as it is, where it is on its way to being told. */
function possibleCauses(draft: Draft, point: PointState, hold: Hold): Possible[] {
  const prediction = predictionOf(draft.prediction, point.id);
  if (prediction === undefined || !readsInTime(draft, point)) return [];
  const { intervalMs = 0 } = draft.plan.channels[point.channel ?? -1] ?? {};
  const { value, settling, atMs } = point;
  if (value === null || settling === null || atMs === null) return [];
  const { low, high, unit } = prediction;
  const isKnown = atMs > hold.sinceMs && isTelling(settling, unit, draft.atMs, intervalMs);
  if (isKnown) return point.outside === null ? [] : [outside(point.id, value, low, high)];
  if (settling.kind === 'moving' && settling.stoodAt === null) return [];
  return [low / 2, high * 2].map((far) => outside(point.id, far, low, high));
}

function outside(point: string, value: number, low: number, high: number): Possible {
  const cause: AlarmCause = { kind: 'outside-prediction', point, value, unit: unitOf(point), low, high };
  return { id: `outside-prediction:${point}`, active: true, cause };
}

/** What the rules of explaining ask of a unit: whether it is a temperature. */
function unitOf(point: string): 'degC' | 'V' {
  return /\.(case|junction|air|heatsink)$/.test(point) ? 'degC' : 'V';
}
