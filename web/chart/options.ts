import type uPlot from 'uplot';
import type { MarkView, PointView } from '../../daemon/serve/messages.js';
import { pointDomain, type Domain } from './domain.js';
import { drawBand, drawLimits, drawLimitWords, drawNewest } from './drawing.js';
import { drawFan, drawFuture, drawMarks } from './drawing-time.js';
import type { Fan } from './fan.js';
import { lineSeries, plotOptions, type PlotLook } from './plot-options.js';
import type { Timeline } from './timeline.js';

/** What is drawn of a running session, asked for at every drawing. */
export interface LiveScene {
  readonly timeline: () => Timeline;
  readonly fan: () => Fan | null;
  readonly marks: () => readonly MarkView[];
  /** The reading under the pointer; null when it left. */
  readonly onPointer: (seconds: number | null, value: number | null) => void;
}

/** The measured line over the predicted band, with the limits that lie near it. */
export function chartOptions(look: PlotLook, scene: LiveScene): uPlot.Options {
  const { point, colours } = look;
  const { timeline, fan, marks } = scene;
  return {
    ...plotOptions(look, {
      span: () => timeline().span,
      domain: (from, to) => reachOf(point, scene, [from, to]),
      beforeStart: () => '',
    }),
    cursor: { y: false, drag: { x: false, y: false }, sync: { key: 'session-time' }, points: { size: 8 } },
    series: [{}, lineSeries(colours.measured)],
    hooks: {
      drawAxes: [
        (chart) => drawFuture(chart, timeline().nowMs, colours),
        (chart) => drawBand(chart, point, colours),
        (chart) => drawFan(chart, fan(), colours),
        (chart) => drawLimits(chart, point, colours),
      ],
      draw: [
        (chart) => drawMarks(chart, marks(), colours),
        (chart) => drawNewest(chart, timeline().nowMs, colours),
        (chart) => drawLimitWords(chart, point, colours),
      ],
      setCursor: [(chart) => tellPointer(chart, scene)],
    },
  };
}

/** What is measured, and how far the forecast reaches. */
function reachOf(
  point: PointView,
  { fan, timeline }: LiveScene,
  measured: readonly (number | null)[],
): Domain {
  const ends = fan()?.at(timeline().span.toMs);
  const values = [...measured, ...(ends === undefined ? [] : [ends.low, ends.high])];
  return pointDomain(
    point,
    values.filter((value): value is number => value !== null && Number.isFinite(value)),
  );
}

function tellPointer(chart: uPlot, { onPointer }: LiveScene): void {
  const index = chart.cursor.idx;
  const inside = (chart.cursor.left ?? -1) >= 0;
  const seconds = typeof index === 'number' && inside ? chart.data[0][index] : undefined;
  const value = typeof index === 'number' ? chart.data[1]?.[index] : undefined;
  onPointer(seconds ?? null, value ?? null);
}
