import uPlot from 'uplot';
import plotSheet from 'uplot/dist/uPlot.min.css?inline';
import { fanOf } from '../../../web/chart/fan.js';
import { chartOptions } from '../../../web/chart/options.js';
import type { PlotLook } from '../../../web/chart/plot-options.js';
import { Timeline } from '../../../web/chart/timeline.js';
import { alignedColumns } from '../../../web/job/curve-columns.js';
import { recordedOptions } from '../../../web/job/recorded-options.js';
import { NOW_MS, POINTS } from '../signal-cabin.js';

/* Runs in Chromium: does with charts all that the page does, and keeps what is seen of it. */

const COLOURS = {
  ink: '#1b2229',
  quiet: '#55606b',
  edge: '#d9d5ca',
  sheet: '#fffefb',
  measured: '#0072b2',
  band: '#cde',
  bandEdge: '#68a',
  limit: '#d55e00',
  forecast: '#a8447f',
  fan: '#ecd',
  wash: '#e3edf4',
  fontFamily: 'sans-serif',
  fontSizePx: 13,
};

export async function seenOfCharts(seed: number): Promise<readonly string[]> {
  document.head.appendChild(document.createElement('style')).textContent = plotSheet;
  const seen: string[] = [];
  const random = randomFrom(seed);
  await seeLiveCharts(seen, random);
  await seeRecordedChart(seen, random);
  return seen;
}

async function seeLiveCharts(seen: string[], random: () => number): Promise<void> {
  const timeline = new Timeline();
  timeline.set(NOW_MS, true);
  const warm = {
    settles: { low: 80, typical: 90, high: 99 },
    settlesWithin: { low: 60, typical: 80, high: 99 },
  };
  const charts = ['logic.case', 'logic.volts'].map((id, i) => {
    const point = { ...pointOf(id), ...(i === 0 && warm) };
    const options = chartOptions(look(point, 700 - 90 * i), {
      timeline: () => timeline,
      fan: () => fanOf(point),
      marks: () => [{ atMs: NOW_MS - 60_000, kind: 'note', point: null, words: 'tapped it' }],
      onPointer: (seconds, value) => seen.push(`${id} ${String(seconds)} ${String(value)}`),
    });
    return new uPlot(options, [[], []], frame());
  });
  const see = async (): Promise<void> => {
    await drawn();
    for (const chart of charts) seen.push(picture(chart), ...marksOver(chart));
  };
  const fill = (count: number): void => {
    for (const [i, chart] of charts.entries()) chart.setData(readings(random, count, i === 0 ? 60 : 5));
  };
  await see();
  for (const count of [1, 2, 400]) {
    fill(count);
    await see();
  }
  for (const x of [0, 3, 120.5, 333, 480]) {
    point(charts[0], 'mouseenter', x);
    point(charts[0], 'mousemove', x);
    await see();
  }
  fill(500);
  await see();
  charts[1]?.setSize({ width: 410, height: 200 });
  timeline.zoom(0.5, NOW_MS - 90_000);
  fill(500);
  await see();
  point(charts[0], 'mouseleave', -5);
  await see();
  for (const chart of charts) chart.destroy();
  seen.push(document.body.innerHTML);
}

async function seeRecordedChart(seen: string[], random: () => number): Promise<void> {
  const [seconds, value] = readings(random, 300, 60);
  const curve = (laterMs: number) => ({
    atMs: seconds.map((second) => Math.round(second * 1000) + laterMs),
    low: value.map((mean) => (mean ?? 60) - 1),
    mean: value.map((mean) => mean ?? 60),
    high: value.map((mean) => (mean ?? 60) + 1),
    gapMs: 2500,
  });
  const scene = {
    lines: [
      { curve: curve(0), kind: 'measured' as const },
      { curve: curve(700), kind: 'before' as const },
    ],
    bands: [
      { fromMs: 0, low: 50, typical: 55, high: 65 },
      { fromMs: NOW_MS - 100_000, low: 58, typical: 60, high: 62 },
    ],
    marks: [{ atMs: NOW_MS - 50_000, kind: 'alarm' as const, point: null, sentence: 'Too hot.' }],
    span: { fromMs: -20_000, toMs: NOW_MS },
    atMs: NOW_MS - 30_000,
  };
  const options = recordedOptions({ ...look(pointOf('logic.case'), 640), before: '#cc79a7' }, () => scene);
  const data = () => alignedColumns(scene.lines.map((line) => line.curve));
  const chart = new uPlot(options, data(), frame());
  const see = async (): Promise<void> => {
    await drawn();
    seen.push(
      picture(chart),
      ...marksOver(chart),
      String(chart.posToVal(100, 'x')),
      JSON.stringify(chart.bbox),
    );
  };
  await see();
  chart.setSelect({ left: 40, width: 90, top: 0, height: 120 }, false);
  scene.atMs -= 40_000;
  chart.redraw(false);
  await see();
  chart.setSize({ width: 500, height: 260 });
  await see();
  scene.span = { fromMs: NOW_MS - 120_000, toMs: NOW_MS - 20_000 };
  chart.setData(data());
  await see();
  chart.destroy();
}

function pointOf(id: string) {
  const found = POINTS.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no ${id}`);
  return found;
}

function look(point: PlotLook['point'], width: number): PlotLook {
  return { point, colours: COLOURS, width, height: 190 };
}

function frame(): HTMLElement {
  return document.body.appendChild(document.createElement('div'));
}

/** With gaps, one a second up to now. */
function readings(random: () => number, count: number, around: number): [number[], (number | null)[]] {
  const seconds = Array.from({ length: count }, (_, i) => NOW_MS / 1000 - count + i + random() / 2);
  return [seconds, seconds.map(() => (random() < 0.05 ? null : around * (0.9 + 0.2 * random())))];
}

function picture(chart: uPlot): string {
  return chart.ctx.canvas.toDataURL();
}

/** Where the cursor, its dots and the selection stand. */
function marksOver(chart: uPlot): readonly string[] {
  const marks = chart.root.querySelectorAll('.u-cursor-x, .u-cursor-pt, .u-select');
  return [...marks].map((mark) => {
    const { left, top, width, height } = mark.getBoundingClientRect();
    const { backgroundColor, display, pointerEvents } = getComputedStyle(mark);
    return [mark.className, left, top, width, height, backgroundColor, display, pointerEvents].join(' ');
  });
}

function point(chart: uPlot | undefined, kind: string, x: number): void {
  const { left, top } = chart!.over.getBoundingClientRect();
  const at = { clientX: left + x, clientY: top + 50, movementX: 1, bubbles: kind === 'mousemove' };
  chart!.over.dispatchEvent(new MouseEvent(kind, at));
}

/** uPlot draws in a microtask. */
function drawn(): Promise<void> {
  return new Promise((resolve) => requestAnimationFrame(() => resolve()));
}

/** Park and Miller's minimal standard generator. */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}
