import uPlot from 'uplot';
import type { MarkView } from '../../daemon/serve/messages.js';
import type { ChartColours } from './colours.js';
import { clipToPlot, drawLine } from './drawing.js';
import type { Fan } from './fan.js';

/** Slices of the fan: more would not be seen. */
const SLICES = 24;
/** Half of a mark's size, in CSS pixels. */
const MARK = 4.5;

/** The time that is still to come, with a line where now is. */
export function drawFuture(chart: uPlot, nowMs: number, { wash, quiet }: ChartColours): void {
  const { ctx, bbox } = chart;
  const x = chart.valToPos(nowMs / 1000, 'x', true);
  if (x >= bbox.left + bbox.width - 1) return;
  ctx.save();
  clipToPlot(ctx, bbox);
  ctx.fillStyle = wash;
  ctx.fillRect(x, bbox.top, bbox.left + bbox.width - x, bbox.height);
  upright(ctx, bbox, x, quiet);
  ctx.restore();
}

/** Where a temperature is going: a fan that covers 90 %, its middle dashed. */
export function drawFan(chart: uPlot, fan: Fan | null, { fan: fill, forecast }: ChartColours): void {
  const toMs = (chart.scales['x']?.max ?? 0) * 1000;
  if (fan === null || toMs <= fan.fromMs) return;
  const { ctx, bbox } = chart;
  const slices = Array.from({ length: SLICES + 1 }, (_, i) => {
    const atMs = fan.fromMs + (i / SLICES) * (toMs - fan.fromMs);
    const { low, typical, high } = fan.at(atMs);
    const y = (value: number): number => chart.valToPos(value, 'y', true);
    return { x: chart.valToPos(atMs / 1000, 'x', true), low: y(low), typical: y(typical), high: y(high) };
  });
  ctx.save();
  clipToPlot(ctx, bbox);
  ctx.beginPath();
  for (const { x, high } of slices) ctx.lineTo(x, high);
  for (const { x, low } of slices.toReversed()) ctx.lineTo(x, low);
  ctx.closePath();
  ctx.fillStyle = fill;
  ctx.strokeStyle = forecast;
  ctx.lineWidth = uPlot.pxRatio;
  ctx.fill();
  ctx.stroke();
  ctx.beginPath();
  for (const { x, typical } of slices) ctx.lineTo(x, typical);
  ctx.setLineDash([6 * uPlot.pxRatio, 4 * uPlot.pxRatio]);
  ctx.lineWidth = 2 * uPlot.pxRatio;
  ctx.stroke();
  ctx.restore();
}

/** A fine line at each moment at which something happened, its shape at the foot. */
export function drawMarks(chart: uPlot, marks: readonly MarkView[], colours: ChartColours): void {
  const { ctx, bbox } = chart;
  ctx.save();
  clipToPlot(ctx, bbox);
  for (const { atMs, kind } of marks) {
    const x = chart.valToPos(atMs / 1000, 'x', true);
    if (x < bbox.left || x > bbox.left + bbox.width) continue;
    upright(ctx, bbox, x, colours.quiet);
    shape(ctx, kind, x, bbox.top + bbox.height - (MARK + 2) * uPlot.pxRatio, colours);
  }
  ctx.restore();
}

function upright(ctx: CanvasRenderingContext2D, bbox: uPlot.BBox, x: number, stroke: string): void {
  drawLine(ctx, [x, bbox.top], [x, bbox.top + bbox.height], stroke, [2, 4], 1);
}

/** A triangle for an alarm, a disc for a moved probe, a square for another load or step, a lozenge for a note. */
function shape(
  ctx: CanvasRenderingContext2D,
  kind: MarkView['kind'],
  x: number,
  y: number,
  { ink, sheet, limit }: ChartColours,
): void {
  const r = MARK * uPlot.pxRatio;
  ctx.beginPath();
  if (kind === 'probe') ctx.arc(x, y, r, 0, 2 * Math.PI);
  else if (kind === 'load' || kind === 'step') ctx.rect(x - r, y - r, 2 * r, 2 * r);
  else {
    ctx.moveTo(x, y - r);
    ctx.lineTo(x + r, kind === 'note' ? y : y + r);
    if (kind === 'note') ctx.lineTo(x, y + r);
    ctx.lineTo(x - r, kind === 'note' ? y : y + r);
    ctx.closePath();
  }
  ctx.fillStyle = kind === 'alarm' ? limit : sheet;
  ctx.strokeStyle = ink;
  ctx.lineWidth = 1.4 * uPlot.pxRatio;
  ctx.fill();
  ctx.stroke();
}
