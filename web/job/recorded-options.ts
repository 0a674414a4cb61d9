import uPlot from 'uplot';
import type { BandView, CurveView, MarkView } from '../../daemon/serve/job-views.js';
import type { ChartColours } from '../chart/colours.js';
import { pointDomain, type Domain } from '../chart/domain.js';
import { clipToPlot, drawBand, drawLimits, drawLimitWords, drawLine } from '../chart/drawing.js';
import { lineSeries, plotOptions, type PlotLook } from '../chart/plot-options.js';
import type { Span } from '../chart/span.js';
import { extremesIn } from './curve-columns.js';

/** One measured line; `before` is the earlier session of two. */
export interface RecordedLine {
  readonly curve: CurveView;
  readonly kind: 'measured' | 'before';
}

/** What is drawn now, asked for at every drawing. */
export interface RecordedScene {
  readonly lines: readonly RecordedLine[];
  readonly bands: readonly BandView[];
  readonly marks: readonly MarkView[];
  readonly span: Span;
  /** The moment that is looked at; null: none. */
  readonly atMs: number | null;
}

export interface RecordedLook extends PlotLook {
  /** The colour of the earlier session's line. */
  readonly before: string;
}

export function recordedOptions(look: RecordedLook, scene: () => RecordedScene): uPlot.Options {
  return {
    ...plotOptions(look, {
      span: () => scene().span,
      domain: () => reachOf(look, scene()),
      beforeStart: (text) => `\u2212${text}`,
    }),
    cursor: { show: false },
    series: [{}, ...scene().lines.map(({ kind }) => lineOf(kind, look))],
    hooks: {
      drawAxes: [(chart) => drawBehind(chart, scene(), look)],
      draw: [
        (chart) => drawMoments(chart, scene(), look),
        (chart) => drawLimitWords(chart, look.point, look.colours),
      ],
    },
  };
}

function lineOf(kind: RecordedLine['kind'], { colours, before }: RecordedLook): uPlot.Series {
  return kind === 'measured' ? lineSeries(colours.measured) : lineSeries(before, [9, 5]);
}

function reachOf({ point }: PlotLook, { lines, span }: RecordedScene): Domain {
  return pointDomain(
    point,
    lines.flatMap(({ curve }) => extremesIn(curve, span) ?? []),
  );
}

/** The predicted bands, each from its time on, the limits, and how far the readings spread. */
function drawBehind(chart: uPlot, { lines, bands, span }: RecordedScene, look: RecordedLook): void {
  const { point, colours } = look;
  const { ctx, bbox } = chart;
  const steps = bands.length > 0 ? bands : [{ ...point, fromMs: -Infinity }];
  for (const [i, band] of steps.entries()) {
    const fromMs = Math.max(span.fromMs, i === 0 ? -Infinity : band.fromMs);
    const toMs = Math.min(span.toMs, steps[i + 1]?.fromMs ?? Infinity);
    if (toMs > fromMs) drawBand(chart, band, colours, { fromMs, toMs });
  }
  ctx.save();
  clipToPlot(ctx, bbox);
  for (const line of lines) drawSpread(chart, line, look);
  ctx.restore();
  drawLimits(chart, point, colours);
}

/** From the lowest to the highest of each stretch, so that no extreme is lost between two pixels. */
function drawSpread(chart: uPlot, { curve, kind }: RecordedLine, { colours, before }: RecordedLook): void {
  const { ctx } = chart;
  const { atMs, low, high } = curve;
  ctx.globalAlpha = 0.4;
  ctx.strokeStyle = kind === 'measured' ? colours.measured : before;
  ctx.lineWidth = 2 * uPlot.pxRatio;
  ctx.beginPath();
  for (const [i, at] of atMs.entries()) {
    const x = chart.valToPos(at / 1000, 'x', true);
    ctx.moveTo(x, chart.valToPos(low[i] ?? NaN, 'y', true));
    ctx.lineTo(x, chart.valToPos(high[i] ?? NaN, 'y', true));
  }
  ctx.stroke();
  ctx.globalAlpha = 1;
}

/** A triangle above each alarm of this point, a small bar above everything else, a line at the moment looked at. */
function drawMoments(
  chart: uPlot,
  { marks, span, atMs }: RecordedScene,
  { point, colours }: RecordedLook,
): void {
  const { ctx, bbox } = chart;
  const ratio = uPlot.pxRatio;
  ctx.save();
  for (const mark of marks) {
    const concerns = mark.point === point.id || mark.point === null;
    if (!concerns || mark.atMs < span.fromMs || mark.atMs > span.toMs) continue;
    const x = chart.valToPos(mark.atMs / 1000, 'x', true);
    if (mark.kind === 'alarm') drawAlarm(ctx, x, bbox, colours);
    else {
      ctx.fillStyle = colours.quiet;
      ctx.fillRect(x - ratio, bbox.top, 2 * ratio, 9 * ratio);
    }
  }
  if (atMs !== null && atMs >= span.fromMs && atMs <= span.toMs) {
    const x = chart.valToPos(atMs / 1000, 'x', true);
    ctx.fillStyle = colours.ink;
    ctx.fillRect(x - ratio, bbox.top, 2 * ratio, bbox.height);
  }
  ctx.restore();
}

function drawAlarm(ctx: CanvasRenderingContext2D, x: number, bbox: uPlot.BBox, colours: ChartColours): void {
  const ratio = uPlot.pxRatio;
  drawLine(ctx, [x, bbox.top + 10 * ratio], [x, bbox.top + bbox.height], colours.limit, [3, 3], 1.5);
  ctx.beginPath();
  ctx.moveTo(x, bbox.top - 2 * ratio);
  ctx.lineTo(x + 7 * ratio, bbox.top + 11 * ratio);
  ctx.lineTo(x - 7 * ratio, bbox.top + 11 * ratio);
  ctx.closePath();
  ctx.fillStyle = colours.limit;
  ctx.strokeStyle = colours.ink;
  ctx.fill();
  ctx.stroke();
}
