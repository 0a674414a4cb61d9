import type { PointView } from '../../daemon/serve/messages.js';

export type Limit = PointView['limits'][number];

/** Values from `from` to `to`, in the point's unit. */
export interface Domain {
  readonly from: number;
  readonly to: number;
}

/** How far away from the band a limit or a value may be and still be drawn in scale, in widths of the band. */
const REACH = 4;
const PADDING = 0.08;

/** The width of the predicted band; a tenth of its value when the prediction is a single number. */
export function bandWidth(point: PointView): number {
  const width = point.high - point.low;
  return width > 0 ? width : Math.max(Math.abs(point.typical) * 0.1, 1e-6);
}

/** Whether the limit is near enough to the band to be drawn where it is. */
export function isNear(value: number, point: PointView): boolean {
  const reach = REACH * bandWidth(point);
  return value >= point.low - reach && value <= point.high + reach;
}

/** Of several limits on one side the one that is reached first. */
export function firstLimits(point: PointView): readonly Limit[] {
  const high = point.limits.filter((limit) => limit.side === 'high').sort((a, b) => a.value - b.value);
  const low = point.limits.filter((limit) => limit.side === 'low').sort((a, b) => b.value - a.value);
  return [...low.slice(0, 1), ...high.slice(0, 1)];
}

/** The first limits that can be drawn in scale with the band. */
export function nearLimits(point: PointView): readonly Limit[] {
  return firstLimits(point).filter((limit) => isNear(limit.value, point));
}

/** What a drawing of this point must span: the band, the limits near it, and `values`. */
export function pointDomain(point: PointView, values: readonly number[]): Domain {
  const shown = [point.low, point.high, ...nearLimits(point).map((limit) => limit.value), ...values];
  let from = Infinity;
  let to = -Infinity;
  for (const value of shown) {
    if (value < from) from = value;
    if (value > to) to = value;
  }
  const padding = Math.max(to - from, bandWidth(point)) * PADDING;
  return { from: from - padding, to: to + padding };
}
