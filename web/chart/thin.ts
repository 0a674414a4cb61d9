import type { Columns } from './track.js';

/** Columns of plain numbers; not a number is a gap. */
export interface NumberColumns {
  readonly atMs: Float64Array;
  readonly value: Float64Array;
}

/** The lowest, the highest and one gap of every `group` readings, in their order: no spike is lost. One loop, hot. */
export function thinned({ atMs, value }: Columns, group: number): NumberColumns {
  const count = atMs.length;
  const keep = new Uint32Array(3 * Math.ceil(count / group));
  let kept = 0;
  for (let from = 0; from < count; from += group) {
    const to = Math.min(from + group, count);
    let low = -1;
    let high = -1;
    let gap = -1;
    for (let i = from; i < to; i += 1) {
      const one = value[i] ?? NaN;
      if (Number.isNaN(one)) gap = gap < 0 ? i : gap;
      else {
        if (low < 0 || one < value[low]!) low = i;
        if (high < 0 || one > value[high]!) high = i;
      }
    }
    const first = kept;
    if (gap >= 0) keep[kept++] = gap;
    if (low >= 0) keep[kept++] = low;
    if (high >= 0 && high !== low) keep[kept++] = high;
    keep.subarray(first, kept).sort();
  }
  const places = keep.subarray(0, kept);
  return {
    atMs: Float64Array.from(places, (i) => atMs[i]!),
    value: Float64Array.from(places, (i) => value[i] ?? NaN),
  };
}
