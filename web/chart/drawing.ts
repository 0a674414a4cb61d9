import uPlot from 'uplot';
import type { PointView } from '../../daemon/serve/messages.js';
import { formatLimit, pointStyle } from '../format.js';
import type { ChartColours } from './colours.js';
import { nearLimits, type Limit } from './domain.js';

/** The predicted band with its typical value, behind the measured line. */
export function drawBand(chart: uPlot, point: PointView, colours: ChartColours): void {
  const { ctx, bbox } = chart;
  const top = chart.valToPos(point.high, 'y', true);
  const bottom = chart.valToPos(point.low, 'y', true);
  const typical = chart.valToPos(point.typical, 'y', true);
  ctx.save();
  clipToPlot(ctx, bbox);
  ctx.fillStyle = colours.band;
  ctx.fillRect(bbox.left, top, bbox.width, Math.max(1, bottom - top));
  line(ctx, bbox, typical, colours.bandEdge, [2, 6]);
  ctx.restore();
}

/** The limits that lie near the band, behind the measured line. */
export function drawLimits(chart: uPlot, point: PointView, colours: ChartColours): void {
  const { ctx, bbox } = chart;
  ctx.save();
  for (const { y } of limitsInSight(chart, point)) line(ctx, bbox, y, colours.limit, [8, 4]);
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

function line(
  ctx: CanvasRenderingContext2D,
  bbox: uPlot.BBox,
  y: number,
  stroke: string,
  dash: number[],
): void {
  ctx.beginPath();
  ctx.setLineDash(dash.map((length) => length * uPlot.pxRatio));
  ctx.strokeStyle = stroke;
  ctx.lineWidth = 2 * uPlot.pxRatio;
  ctx.moveTo(bbox.left, y);
  ctx.lineTo(bbox.left + bbox.width, y);
  ctx.stroke();
  ctx.setLineDash([]);
}
