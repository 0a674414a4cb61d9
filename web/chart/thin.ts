/** Columns of plain numbers; not a number is a gap. */
export interface NumberColumns {
  readonly atMs: Float64Array;
  readonly value: Float64Array;
}

/** The lowest, the highest and one gap of every `group` readings, in their order: no spike is lost. One loop, hot. */
export function thinned({ atMs, value }: NumberColumns, group: number): NumberColumns {
  const keep: number[] = [];
  for (let from = 0; from < atMs.length; from += group) {
    const to = Math.min(from + group, atMs.length);
    let low = -1;
    let high = -1;
    let gap = -1;
    for (let i = from; i < to; i += 1) {
      const one = value[i]!;
      if (Number.isNaN(one)) gap = gap < 0 ? i : gap;
      else {
        if (low < 0 || one < value[low]!) low = i;
        if (high < 0 || one > value[high]!) high = i;
      }
    }
    const found = [...new Set([low, high, gap])].filter((i) => i >= 0);
    keep.push(...found.sort((a, b) => a - b));
  }
  return {
    atMs: Float64Array.from(keep, (i) => atMs[i]!),
    value: Float64Array.from(keep, (i) => value[i]!),
  };
}
