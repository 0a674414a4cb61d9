import type { PointView } from '../daemon/serve/messages.js';
import type { PageState } from './session-state.js';

/** A 230 V winding on 115 V still gives half, so less than this share of the least that is predicted means off. */
const OFF_SHARE = 0.25;

/** Whether everything driven that is measured now reads next to nothing. */
export function looksOff(points: readonly PointView[]): boolean {
  const told = points.filter((point) => point.value !== null && !point.stale && isDriven(point));
  return (
    told.length > 0 &&
    told.every(
      ({ value, low, high }) => Math.abs(value!) < OFF_SHARE * Math.min(Math.abs(low), Math.abs(high)),
    )
  );
}

/** What the page shows: in a supply that is switched off too little is nothing wrong, and a cold part doesn't warm up. */
export function judged(state: PageState): PageState {
  if (!looksOff(state.points)) return state;
  const points = state.points.map((point) =>
    isDriven(point) || (point.value ?? 0) < point.low ? { ...point, verdict: null } : point,
  );
  return { ...state, points };
}

function isDriven({ unit, low, high }: PointView): boolean {
  return /^[VAW]/.test(unit) && low * high > 0;
}
