import type { PointView } from '../daemon/serve/messages.js';

/** A 230 V winding on 115 V still gives half, so less than this share of the least that is predicted means off. */
const OFF_SHARE = 0.25;

/** Whether a test point tells a supply that is on from one that is off. */
export function isDriven({ unit, low, high }: Pick<PointView, 'unit' | 'low' | 'high'>): boolean {
  return /^[VAW]/.test(unit) && low * high > 0;
}

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
