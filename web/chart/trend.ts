import type { PointView } from '../../daemon/serve/messages.js';
import { differenceStyle, formatQuantity, pointStyle } from '../format.js';
import { numberAt, type Columns } from './track.js';

const TREND_WINDOW_MS = 60_000;
const FEWEST_READINGS = 4;
const SHORTEST_SPAN_MS = 5000;

/** What counts as no change: a degree, or a hundredth of what is predicted. */
export function steadyTolerance(point: PointView): number {
  return point.unit === 'degC' ? 1 : Math.max(Math.abs(point.typical) * 0.01, 1e-4);
}

/** How long the value has stayed within the tolerance of its newest reading, in ms; null without a reading. */
export function steadyForMs({ atMs, value }: Columns, tolerance: number): number | null {
  const newest = atMs.length - 1;
  const last = numberAt(value, newest);
  const endMs = atMs[newest];
  if (last === null || endMs === undefined) return null;
  let sinceMs = endMs;
  for (let index = newest - 1; index >= 0; index -= 1) {
    const one = numberAt(value, index);
    if (one === null || Math.abs(one - last) > tolerance) break;
    sinceMs = atMs[index] ?? sinceMs;
  }
  return endMs - sinceMs;
}

/** Change per minute over the last minute, by the straight line of least squares; null with too few readings. */
export function changePerMinute(columns: Columns): number | null {
  const newest = columns.atMs.length - 1;
  const endMs = columns.atMs[newest] ?? 0;
  const minutes: number[] = [];
  const values: number[] = [];
  for (let index = newest; index >= 0; index -= 1) {
    const atMs = columns.atMs[index] ?? 0;
    const value = numberAt(columns.value, index);
    if (endMs - atMs > TREND_WINDOW_MS || value === null) break;
    minutes.push((atMs - endMs) / 60_000);
    values.push(value);
  }
  const spanMs = -(minutes.at(-1) ?? 0) * 60_000;
  return values.length < FEWEST_READINGS || spanMs < SHORTEST_SPAN_MS ? null : slope(minutes, values);
}

function slope(x: readonly number[], y: readonly number[]): number {
  const meanX = x.reduce((sum, value) => sum + value, 0) / x.length;
  const meanY = y.reduce((sum, value) => sum + value, 0) / y.length;
  let above = 0;
  let below = 0;
  x.forEach((value, index) => {
    above += (value - meanX) * ((y[index] ?? meanY) - meanY);
    below += (value - meanX) ** 2;
  });
  return above / below;
}

/** `steady`, `rising 2.4 °C a minute`; empty when there is too little to say. */
export function trendWords(point: PointView, columns: Columns): string {
  const change = changePerMinute(columns);
  if (change === null) return '';
  if (Math.abs(change) < steadyTolerance(point) / 2) return 'steady';
  const size = formatQuantity(Math.abs(change), differenceStyle(pointStyle(point)));
  return `${change > 0 ? 'rising' : 'falling'} ${size} a minute`;
}
