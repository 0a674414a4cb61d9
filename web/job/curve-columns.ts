import type { CurveView } from '../../daemon/serve/job-views.js';
import type { Span } from './span.js';

/** What a chart is given: x in seconds, strictly ascending; null is a gap, undefined isn't measured then. */
export type PlotColumns = [seconds: number[], ...values: (number | null | undefined)[][]];

/** The means of a curve with a gap wherever nothing was measured. */
export function curveColumns({
  atMs,
  mean,
  gapMs,
}: CurveView): [seconds: number[], value: (number | null)[]] {
  const seconds: number[] = [];
  const value: (number | null)[] = [];
  let lastMs = -Infinity;
  for (const [i, at] of atMs.entries()) {
    if (!(at > lastMs)) continue;
    if (at - lastMs > gapMs && seconds.length > 0) {
      seconds.push((lastMs + 0.5) / 1000);
      value.push(null);
    }
    seconds.push(at / 1000);
    value.push(mean[i] ?? null);
    lastMs = at;
  }
  return [seconds, value];
}

/** The means of several curves on one axis, each undefined where only another one has a reading. */
export function alignedColumns(curves: readonly CurveView[]): PlotColumns {
  const tables = curves.map(curveColumns);
  const seconds = [...new Set(tables.flatMap(([at]) => at))].sort((a, b) => a - b);
  const values = tables.map(([at, value]) => {
    const valueAt = new Map(at.map((second, i) => [second, value[i]]));
    return seconds.map((second) => valueAt.get(second));
  });
  return [seconds, ...values];
}

/** Lowest and highest value in the span; null without a reading in it. */
export function extremesIn({ atMs, low, high }: CurveView, { fromMs, toMs }: Span): readonly number[] | null {
  let [least, most] = [Infinity, -Infinity];
  for (const [i, at] of atMs.entries()) {
    if (at < fromMs || at > toMs) continue;
    least = Math.min(least, low[i] ?? least);
    most = Math.max(most, high[i] ?? most);
  }
  return least > most ? null : [least, most];
}

/** The mean that stands at a moment; null in a gap. */
export function meanAt({ atMs, mean, gapMs }: CurveView, momentMs: number): number | null {
  const index = nearest(atMs, momentMs);
  const at = atMs[index];
  return at === undefined || Math.abs(at - momentMs) > gapMs ? null : (mean[index] ?? null);
}

function nearest(atMs: readonly number[], momentMs: number): number {
  let low = 0;
  let high = atMs.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((atMs[middle] ?? Infinity) < momentMs) low = middle + 1;
    else high = middle;
  }
  const before = atMs[low - 1];
  const here = atMs[low];
  const isBeforeNearer = before !== undefined && here !== undefined && momentMs - before < here - momentMs;
  return isBeforeNearer ? low - 1 : low;
}
