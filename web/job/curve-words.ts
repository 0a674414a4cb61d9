import type { BandView, CurveView, MarkView } from '../../daemon/serve/job-views.js';
import type { PointView } from '../../daemon/serve/messages.js';
import { steadyTolerance } from '../chart/trend.js';
import { differenceStyle, formatQuantity, formatRange, formatSessionTime, pointStyle } from '../format.js';
import { extremesIn, meanAt } from './curve-columns.js';
import type { Span } from './span.js';

/** What a curve shows, for those who don't see it: value, band and trend at the moment, extremes of the span. */
export function curveWords(point: PointView, curve: CurveView, span: Span, atMs: number): string {
  const style = pointStyle(point);
  const extremes = extremesIn(curve, span);
  if (extremes === null) return 'Nothing was measured in this stretch.';
  const [low = 0, high = 0] = extremes;
  const value = meanAt(curve, atMs);
  const here = value === null ? 'no reading' : formatQuantity(value, style);
  const trend = trendWords(point, curve, atMs);
  return (
    `At ${formatSessionTime(atMs)}: ${here}${trend === '' ? '' : `, ${trend}`}. ` +
    `Here ${formatRange(low, high, style)}; predicted ${formatRange(point.low, point.high, style)}.`
  );
}

/** So many are named. */
const MOST_TIMES = 6;

/** ` Alarms at 00:35, 00:52.` for the alarms of a point in the span; empty without any. */
export function alarmTimesWords(marks: readonly MarkView[], point: string, { fromMs, toMs }: Span): string {
  const times = marks
    .filter(({ kind, point: of, atMs }) => kind === 'alarm' && of === point && atMs >= fromMs && atMs <= toMs)
    .map(({ atMs }) => formatSessionTime(atMs));
  if (times.length === 0) return '';
  const rest = times.length - MOST_TIMES;
  const more = rest > 0 ? ` and ${rest} more` : '';
  return ` ${times.length === 1 ? 'Alarm' : 'Alarms'} at ${times.slice(0, MOST_TIMES).join(', ')}${more}.`;
}

/** Long enough to tell a trend from a wobble. */
const TREND_MS = 10_000;

function trendWords(point: PointView, curve: CurveView, atMs: number): string {
  const reachMs = Math.max(TREND_MS, curve.gapMs);
  const before = meanAt(curve, atMs - reachMs);
  const after = meanAt(curve, atMs + reachMs);
  if (before === null || after === null) return '';
  const perMinute = ((after - before) / (2 * reachMs)) * 60_000;
  if (Math.abs(perMinute) < steadyTolerance(point) / 2) return 'steady';
  const size = formatQuantity(Math.abs(perMinute), differenceStyle(pointStyle(point)));
  return `${perMinute > 0 ? 'rising' : 'falling'} ${size} a minute`;
}

/** The point with the band that held at a moment. */
export function withBandAt(
  point: PointView,
  bands: readonly BandView[] | undefined,
  atMs: number,
): PointView {
  const band = bands?.findLast(({ fromMs }) => fromMs <= atMs);
  return band === undefined ? point : { ...point, low: band.low, typical: band.typical, high: band.high };
}
