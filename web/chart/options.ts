import type uPlot from 'uplot';
import type { MarkView, PointView } from '../../daemon/serve/messages.js';
import { formatNumber, formatSessionTime, pointStyle } from '../format.js';
import type { ChartColours } from './colours.js';
import { pointDomain, type Domain } from './domain.js';
import { drawBand, drawLimits, drawLimitWords, drawNewest } from './drawing.js';
import { drawFan, drawFuture, drawMarks } from './drawing-time.js';
import type { Fan } from './fan.js';
import type { Timeline } from './timeline.js';

export interface ChartSpec {
  readonly point: PointView;
  readonly colours: ChartColours;
  readonly width: number;
  readonly height: number;
  // Asked for at every drawing.
  readonly timeline: () => Timeline;
  readonly fan: () => Fan | null;
  readonly marks: () => readonly MarkView[];
  /** The reading under the pointer; null when it left. */
  readonly onPointer: (seconds: number | null, value: number | null) => void;
}

/** Width of the measured line. */
export const LINE_PIXELS = 2.5;

const TICK_SECONDS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400];

/** What uPlot is told: the measured line over the predicted band, with the limits that lie near it. */
export function chartOptions(spec: ChartSpec): uPlot.Options {
  const { colours, width, height } = spec;
  return {
    width,
    height,
    padding: [8, 24, 0, 0],
    legend: { show: false },
    cursor: { y: false, drag: { x: false, y: false }, sync: { key: 'session-time' }, points: { size: 8 } },
    scales: {
      x: { time: false, range: () => secondsOf(spec) },
      y: { range: (_chart, from, to) => rangeOf(spec, from, to) },
    },
    axes: [xAxis(colours), yAxis(spec)],
    series: [{}, { stroke: colours.measured, width: LINE_PIXELS, spanGaps: false, points: { show: false } }],
    hooks: {
      drawAxes: [
        (chart) => drawFuture(chart, spec.timeline().nowMs, colours),
        (chart) => drawBand(chart, spec.point, colours),
        (chart) => drawFan(chart, spec.fan(), colours),
        (chart) => drawLimits(chart, spec.point, colours),
      ],
      draw: [
        (chart) => drawMarks(chart, spec.marks(), colours),
        (chart) => drawNewest(chart, spec.timeline().nowMs, colours),
        (chart) => drawLimitWords(chart, spec.point, colours),
      ],
      setCursor: [(chart) => tellPointer(chart, spec)],
    },
  };
}

function secondsOf({ timeline }: ChartSpec): [number, number] {
  const { fromMs, toMs } = timeline().span;
  return [fromMs / 1000, toMs / 1000];
}

/** What is measured, and how far the forecast reaches. */
function rangeOf(
  { point, fan, timeline }: ChartSpec,
  from: number | null,
  to: number | null,
): [number, number] {
  const ends = fan()?.at(timeline().span.toMs);
  const values = [from, to, ...(ends === undefined ? [] : [ends.low, ends.high])];
  const domain: Domain = pointDomain(
    point,
    values.filter((value): value is number => value !== null && Number.isFinite(value)),
  );
  return [domain.from, domain.to];
}

function xAxis({ quiet, edge, fontFamily, fontSizePx }: ChartColours): uPlot.Axis {
  return {
    stroke: quiet,
    font: `${fontSizePx}px ${fontFamily}`,
    size: fontSizePx * 2.4,
    gap: 4,
    space: fontSizePx * 5.3,
    incrs: TICK_SECONDS,
    grid: { stroke: edge, width: 1 },
    ticks: { show: false },
    values: (_chart, seconds) => seconds.map((at) => (at < 0 ? '' : formatSessionTime(at * 1000))),
  };
}

function yAxis({ point, colours }: ChartSpec): uPlot.Axis {
  const { factor, offset = 0, decimals, unitText } = pointStyle(point);
  return {
    stroke: colours.quiet,
    font: `${colours.fontSizePx}px ${colours.fontFamily}`,
    size: colours.fontSizePx * 5,
    gap: 6,
    space: 34,
    grid: { stroke: colours.edge, width: 1 },
    ticks: { show: false },
    ...(offset !== 0 && {
      splits: (_chart: uPlot, _axis: number, from: number, to: number, step: number) =>
        roundTicks({ from, to }, step, { factor, offset }),
    }),
    values: (_chart, values) =>
      values.map((value, index) => {
        const step = Math.abs((values[1] ?? value) - (values[0] ?? value)) * factor;
        const places = step >= 1 ? 0 : step >= 0.1 ? 1 : Math.max(2, decimals);
        const text = formatNumber(value, { factor, offset, unitText, decimals: places });
        return index === values.length - 1 ? `${text} ${unitText}` : text;
      }),
  };
}

/** Ticks that are round in the unit that is written, in the unit of the data. */
function roundTicks(
  { from, to }: Domain,
  step: number,
  { factor, offset }: { factor: number; offset: number },
): number[] {
  const stride = roundUp(step * factor);
  const first = Math.ceil((from * factor + offset) / stride);
  const last = Math.floor((to * factor + offset) / stride);
  return Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, i) => ((first + i) * stride - offset) / factor,
  );
}

/** The next of 1, 2, 5, 10, 20 … */
function roundUp(value: number): number {
  const decade = 10 ** Math.floor(Math.log10(value));
  return ([1, 2, 5, 10].find((of) => of * decade >= value * 0.999) ?? 10) * decade;
}

function tellPointer(chart: uPlot, spec: ChartSpec): void {
  const index = chart.cursor.idx;
  const inside = (chart.cursor.left ?? -1) >= 0;
  const seconds = typeof index === 'number' && inside ? chart.data[0][index] : undefined;
  const value = typeof index === 'number' ? chart.data[1]?.[index] : undefined;
  spec.onPointer(seconds ?? null, value ?? null);
}
