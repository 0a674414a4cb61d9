import type { PointView } from '../daemon/serve/messages.js';
import { isNear, nearLimits, pointDomain, type Domain } from './chart/domain.js';

/** Where things stand on the small horizontal scale of a test point, in percent of its width. */
export interface ScaleGeometry {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  readonly limits: readonly { readonly at: number; readonly side: 'high' | 'low' }[];
  /** Null without a value. */
  readonly value: number | null;
  /** The value is too far away to be drawn in scale: the marker stands at the edge. */
  readonly beyond: 'below' | 'above' | null;
}

const EDGE = 7;
/** Room for the marker of a value that is off the scale, in widths of what is drawn. */
const ROOM_BEYOND = 0.22;

/** Places band, limits and value of `point`. A value off the scale stands at its edge and is said to be beyond. */
export function scaleGeometry(point: PointView): ScaleGeometry {
  const { value } = point;
  const drawn = value !== null && isNear(value, point) ? [value] : [];
  const beyond = value === null || drawn.length > 0 ? null : value < point.low ? 'below' : 'above';
  const { from, to } = withRoom(pointDomain(point, drawn), beyond);
  const place = (at: number): number => ((at - from) / (to - from)) * 100;
  return {
    low: place(point.low),
    typical: place(point.typical),
    high: place(point.high),
    limits: nearLimits(point).map((limit) => ({ at: place(limit.value), side: limit.side })),
    value: value === null ? null : Math.min(100 - EDGE, Math.max(EDGE, place(value))),
    beyond,
  };
}

function withRoom({ from, to }: Domain, beyond: ScaleGeometry['beyond']): Domain {
  const room = (to - from) * ROOM_BEYOND;
  return { from: beyond === 'below' ? from - room : from, to: beyond === 'above' ? to + room : to };
}
