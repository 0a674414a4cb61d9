import type uPlot from 'uplot';
import type { PointView } from '../../daemon/serve/messages.js';
import { formatNumber, formatSessionTime, pointStyle } from '../format.js';
import type { ChartColours } from './colours.js';
import type { Domain } from './domain.js';
import type { Span } from './span.js';

export interface PlotLook {
  readonly point: PointView;
  readonly colours: ChartColours;
  readonly width: number;
  readonly height: number;
}

/** What a chart shows, asked for at every drawing. */
export interface PlotReach {
  readonly span: () => Span;
  /** `from` and `to`: what is measured in the span. */
  readonly domain: (from: number | null, to: number | null) => Domain;
  /** The words for a time before the session's start; `text` is how long before. */
  readonly beforeStart: (text: string) => string;
}

/** Width of the measured line. */
export const LINE_PIXELS = 2.5;

const TICK_SECONDS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 28_800, 86_400];

/** What uPlot is told of every chart: values of one test point over session time. */
export function plotOptions(
  look: PlotLook,
  { span, domain, beforeStart }: PlotReach,
): Omit<uPlot.Options, 'series'> {
  return {
    width: look.width,
    height: look.height,
    padding: [8, 24, 0, 0],
    legend: { show: false },
    scales: {
      x: { time: false, range: () => [span().fromMs / 1000, span().toMs / 1000] },
      y: {
        range: (_chart, low, high) => {
          const { from, to } = domain(low, high);
          return [from, to];
        },
      },
    },
    axes: [timeAxis(look, beforeStart), valueAxis(look)],
  };
}

export function lineSeries(stroke: string, dash: number[] = []): uPlot.Series {
  return { stroke, dash, width: LINE_PIXELS, spanGaps: false, points: { show: false } };
}

function axis({ quiet, edge, fontFamily, fontSizePx }: ChartColours): uPlot.Axis {
  return {
    stroke: quiet,
    font: `${fontSizePx}px ${fontFamily}`,
    grid: { stroke: edge, width: 1 },
    ticks: { show: false },
  };
}

function timeAxis({ colours }: PlotLook, beforeStart: PlotReach['beforeStart']): uPlot.Axis {
  return {
    ...axis(colours),
    size: colours.fontSizePx * 2.4,
    gap: 4,
    space: colours.fontSizePx * 5.3,
    incrs: TICK_SECONDS,
    values: (_chart, seconds) =>
      seconds.map((at) => {
        const text = formatSessionTime(Math.abs(at) * 1000);
        return at < 0 ? beforeStart(text) : text;
      }),
  };
}

function valueAxis({ point, colours }: PlotLook): uPlot.Axis {
  const { factor, offset = 0, unitText } = pointStyle(point);
  return {
    ...axis(colours),
    size: colours.fontSizePx * 5,
    gap: 6,
    space: 34,
    ...(offset !== 0 && {
      splits: (_chart: uPlot, _axis: number, from: number, to: number, step: number) =>
        roundTicks({ from, to }, step, { factor, offset }),
    }),
    values: (_chart, values) =>
      values.map((value, index) => {
        const step = Math.abs((values[1] ?? value) - (values[0] ?? value)) * factor;
        const text = formatNumber(value, { factor, offset, unitText, decimals: decimalsFor(step) });
        return index === values.length - 1 ? `${text} ${unitText}` : text;
      }),
  };
}

/** As many as tell ticks of this step apart. */
function decimalsFor(step: number): number {
  return step >= 1 ? 0 : step >= 0.1 ? 1 : step >= 0.0099 ? 2 : 3;
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
