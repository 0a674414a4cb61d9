import uPlot from 'uplot';
import type { PointView } from '../../daemon/serve/messages.js';
import { formatLimit, pointStyle } from '../format.js';
import type { ChartColours } from './colours.js';
import { nearLimits, type Limit } from './domain.js';
import type { Span } from './span.js';

/** A predicted band with its typical value, behind the measured line; over the whole plot, or over `span`. */
export function drawBand(
  chart: uPlot,
  { low, typical, high }: Pick<PointView, 'low' | 'typical' | 'high'>,
  { band, bandEdge }: ChartColours,
  span?: Span,
): void {
  const { ctx, bbox } = chart;
  const left = span ? chart.valToPos(span.fromMs / 1000, 'x', true) : bbox.left;
  const right = span ? chart.valToPos(span.toMs / 1000, 'x', true) : bbox.left + bbox.width;
  const top = chart.valToPos(high, 'y', true);
  const middle = chart.valToPos(typical, 'y', true);
  ctx.save();
  clipToPlot(ctx, bbox);
  ctx.fillStyle = band;
  ctx.fillRect(left, top, right - left, Math.max(1, chart.valToPos(low, 'y', true) - top));
  drawLine(ctx, [left, middle], [right, middle], bandEdge, [2, 6]);
  ctx.restore();
}

/** The limits that lie near the band, behind the measured line. */
export function drawLimits(chart: uPlot, point: PointView, colours: ChartColours): void {
  const { ctx, bbox } = chart;
  ctx.save();
  for (const { y } of limitsInSight(chart, point)) {
    drawLine(ctx, [bbox.left, y], [bbox.left + bbox.width, y], colours.limit, [8, 4]);
  }
  ctx.restore();
}

/** What each limit is, before everything else, edged so that no line crosses the words out. */
export function drawLimitWords(chart: uPlot, point: PointView, colours: ChartColours): void {
  const { ctx, bbox } = chart;
  const ratio = uPlot.pxRatio;
  const height = colours.fontSizePx * 1.35 * ratio;
  ctx.save();
  ctx.font = `${colours.fontSizePx * ratio}px ${colours.fontFamily}`;
  ctx.textAlign = 'left';
  ctx.textBaseline = 'middle';
  ctx.lineJoin = 'round';
  ctx.lineWidth = 5 * ratio;
  ctx.strokeStyle = colours.sheet;
  ctx.fillStyle = colours.ink;
  for (const { limit, y } of limitsInSight(chart, point)) {
    const hasRoomBelow = y + height < bbox.top + bbox.height;
    const below = y - height < bbox.top || (limit.side === 'low' && hasRoomBelow);
    const words = `limit ${formatLimit(limit.value, pointStyle(point))}`;
    const at = [bbox.left + 6 * ratio, below ? y + height * 0.6 : y - height * 0.6] as const;
    ctx.strokeText(words, ...at);
    ctx.fillText(words, ...at);
  }
  ctx.restore();
}

function limitsInSight(
  chart: uPlot,
  point: PointView,
): readonly { readonly limit: Limit; readonly y: number }[] {
  const { top, height } = chart.bbox;
  return nearLimits(point)
    .map((limit) => ({ limit, y: chart.valToPos(limit.value, 'y', true) }))
    .filter(({ y }) => y >= top && y <= top + height);
}

/** A dot on the newest reading, so that the end of the line is found at once. */
export function drawNewest(chart: uPlot, nowMs: number, { measured, sheet }: ChartColours): void {
  const seconds = chart.data[0].at(-1);
  const value = chart.data[1]?.at(-1);
  if (seconds === undefined || value === undefined || value === null) return;
  if (seconds * 1000 > nowMs || seconds > (chart.scales['x']?.max ?? Infinity)) return;
  const { ctx } = chart;
  ctx.save();
  ctx.beginPath();
  ctx.arc(
    chart.valToPos(seconds, 'x', true),
    chart.valToPos(value, 'y', true),
    4.5 * uPlot.pxRatio,
    0,
    2 * Math.PI,
  );
  ctx.fillStyle = measured;
  ctx.strokeStyle = sheet;
  ctx.lineWidth = 2 * uPlot.pxRatio;
  ctx.fill();
  ctx.stroke();
  ctx.restore();
}

/** Nothing is drawn outside of the plot from now on. */
export function clipToPlot(ctx: CanvasRenderingContext2D, bbox: uPlot.BBox): void {
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
}

type Place = readonly [x: number, y: number];

/** `dash` and `width` in CSS pixels. */
export function drawLine(
  ctx: CanvasRenderingContext2D,
  from: Place,
  to: Place,
  stroke: string,
  dash: readonly number[],
  width = 2,
): void {
  ctx.beginPath();
  ctx.setLineDash(dash.map((length) => length * uPlot.pxRatio));
  ctx.strokeStyle = stroke;
  ctx.lineWidth = width * uPlot.pxRatio;
  ctx.moveTo(...from);
  ctx.lineTo(...to);
  ctx.stroke();
  ctx.setLineDash([]);
}
