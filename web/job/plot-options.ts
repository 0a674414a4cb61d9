import uPlot from 'uplot';
import type { BandView, CurveView, MarkView } from '../../daemon/serve/job-views.js';
import type { PointView } from '../../daemon/serve/messages.js';
import type { ChartColours } from '../chart/colours.js';
import { pointDomain } from '../chart/domain.js';
import { drawLimits, drawLimitWords } from '../chart/drawing.js';
import { formatNumber, formatSessionTime, pointStyle } from '../format.js';
import { extremesIn } from './curve-columns.js';
import type { Span } from './span.js';

/** One measured line; `before` is the earlier session of two. */
export interface RecordedLine {
  readonly curve: CurveView;
  readonly kind: 'measured' | 'before';
}

/** What is drawn now, asked for at every drawing. */
export interface RecordedScene {
  readonly point: PointView;
  readonly lines: readonly RecordedLine[];
  readonly bands: readonly BandView[];
  readonly marks: readonly MarkView[];
  readonly span: Span;
  /** The moment that is looked at; null: none. */
  readonly atMs: number | null;
}

export interface RecordedLook {
  readonly colours: ChartColours;
  readonly before: string;
  readonly width: number;
  readonly height: number;
}

const TICK_SECONDS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1800, 3600, 7200, 14_400, 28_800, 86_400];

export function recordedOptions(scene: () => RecordedScene, look: RecordedLook): uPlot.Options {
  const { colours, width, height } = look;
  return {
    width,
    height,
    padding: [10, 20, 0, 0],
    legend: { show: false },
    cursor: { show: false },
    select: { show: true, left: 0, top: 0, width: 0, height: 0 },
    scales: {
      x: { time: false, range: () => [scene().span.fromMs / 1000, scene().span.toMs / 1000] },
      y: { range: () => valueRange(scene()) },
    },
    axes: [timeAxis(colours), valueAxis(scene().point, colours)],
    series: [{}, ...scene().lines.map(({ kind }) => lineSeries(kind, look))],
    hooks: {
      drawAxes: [(chart) => drawBehind(chart, scene(), look)],
      draw: [
        (chart) => drawMoments(chart, scene(), colours),
        (chart) => drawLimitWords(chart, scene().point, colours),
      ],
    },
  };
}

function lineSeries(kind: RecordedLine['kind'], { colours, before }: RecordedLook): uPlot.Series {
  const shared = { spanGaps: false, points: { show: false } };
  return kind === 'measured'
    ? { ...shared, stroke: colours.measured, width: 2.5 }
    : { ...shared, stroke: before, width: 2.5, dash: [9, 5] };
}

function valueRange({ point, lines, span }: RecordedScene): [number, number] {
  const values = lines.flatMap(({ curve }) => extremesIn(curve, span) ?? []);
  const { from, to } = pointDomain(point, values);
  return [from, to];
}

function timeAxis({ quiet, edge, fontFamily, fontSizePx }: ChartColours): uPlot.Axis {
  return {
    stroke: quiet,
    font: `${fontSizePx}px ${fontFamily}`,
    size: fontSizePx * 2.4,
    gap: 4,
    space: fontSizePx * 6,
    incrs: TICK_SECONDS,
    grid: { stroke: edge, width: 1 },
    ticks: { show: false },
    values: (_chart, seconds) =>
      seconds.map((at) => (at < 0 ? `\u2212${formatSessionTime(-at * 1000)}` : formatSessionTime(at * 1000))),
  };
}

function valueAxis(point: PointView, colours: ChartColours): uPlot.Axis {
  const { factor, offset = 0, unitText } = pointStyle(point);
  return {
    stroke: colours.quiet,
    font: `${colours.fontSizePx}px ${colours.fontFamily}`,
    size: colours.fontSizePx * 5,
    gap: 6,
    space: 34,
    grid: { stroke: colours.edge, width: 1 },
    ticks: { show: false },
    values: (_chart, values) =>
      values.map((value, index) => {
        const step = Math.abs((values[1] ?? value) - (values[0] ?? value)) * factor;
        const decimals = step >= 1 ? 0 : step >= 0.1 ? 1 : step >= 0.01 ? 2 : 3;
        const text = formatNumber(value, { factor, offset, unitText, decimals });
        return index === values.length - 1 ? `${text} ${unitText}` : text;
      }),
  };
}

/** The predicted bands, each from its time on, the limits, and how far the readings spread. */
function drawBehind(chart: uPlot, { point, lines, bands, span }: RecordedScene, look: RecordedLook): void {
  const { ctx, bbox } = chart;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  const steps = bands.length > 0 ? bands : [{ ...point, fromMs: -Infinity }];
  for (const [i, band] of steps.entries()) {
    const fromMs = Math.max(span.fromMs, i === 0 ? -Infinity : band.fromMs);
    const toMs = Math.min(span.toMs, steps[i + 1]?.fromMs ?? Infinity);
    if (toMs > fromMs) drawBand(chart, band, { fromMs, toMs }, look.colours);
  }
  for (const line of lines) drawSpread(chart, line, look);
  ctx.restore();
  drawLimits(chart, point, look.colours);
}

function drawBand(
  chart: uPlot,
  { low, typical, high }: Omit<BandView, 'fromMs'>,
  { fromMs, toMs }: Span,
  colours: ChartColours,
): void {
  const { ctx } = chart;
  const left = chart.valToPos(fromMs / 1000, 'x', true);
  const right = chart.valToPos(toMs / 1000, 'x', true);
  const top = chart.valToPos(high, 'y', true);
  ctx.fillStyle = colours.band;
  ctx.fillRect(left, top, right - left, Math.max(1, chart.valToPos(low, 'y', true) - top));
  const middle = chart.valToPos(typical, 'y', true);
  ctx.beginPath();
  ctx.setLineDash([2 * uPlot.pxRatio, 6 * uPlot.pxRatio]);
  ctx.strokeStyle = colours.bandEdge;
  ctx.lineWidth = 2 * uPlot.pxRatio;
  ctx.moveTo(left, middle);
  ctx.lineTo(right, middle);
  ctx.stroke();
  ctx.setLineDash([]);
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
function drawMoments(chart: uPlot, { point, marks, span, atMs }: RecordedScene, colours: ChartColours): void {
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
  ctx.strokeStyle = colours.limit;
  ctx.lineWidth = 1.5 * ratio;
  ctx.setLineDash([3 * ratio, 3 * ratio]);
  ctx.beginPath();
  ctx.moveTo(x, bbox.top + 10 * ratio);
  ctx.lineTo(x, bbox.top + bbox.height);
  ctx.stroke();
  ctx.setLineDash([]);
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
