import type { Bucket } from '../session/decimator.js';
import type { Stretch } from './overview.js';

interface Sum {
  low: number;
  high: number;
  sum: number;
  count: number;
}

/** Takes readings into `most` equal parts of a stretch; what lies outside it is left out. */
export function evenStretches({ fromMs, toMs, most }: Stretch): {
  add(atMs: number, value: number): void;
  buckets(): readonly Bucket[];
} {
  const widthMs = (toMs - fromMs) / most;
  const sums: (Sum | undefined)[] = [];
  return {
    add(atMs, value) {
      if (atMs < fromMs || atMs >= toMs) return;
      const at = Math.min(most - 1, Math.floor((atMs - fromMs) / widthMs));
      const known = sums[at];
      if (known === undefined) sums[at] = { low: value, high: value, sum: value, count: 1 };
      else join(known, value, value, value, 1);
    },
    buckets: () =>
      Array.from(sums).flatMap((sum, at) =>
        sum === undefined ? [] : [finished(sum, fromMs + at * widthMs, fromMs + (at + 1) * widthMs)],
      ),
  };
}

/**
 * Joins equal neighbours, in steps that all begin at a multiple of their width, until at most `most` cover the
 * stretch. Each holds every reading of the time that it tells, also of that outside the stretch.
 */
export function joinedTo(buckets: readonly Bucket[], { fromMs, toMs, most }: Stretch): readonly Bucket[] {
  const [first] = buckets;
  if (first === undefined) return [];
  const ownMs = first.toMs - first.fromMs;
  let widthMs = Math.max(ownMs, Math.floor((toMs - fromMs) / most / ownMs) * ownMs);
  while (Math.ceil(toMs / widthMs) - Math.floor(fromMs / widthMs) > most) widthMs += ownMs;
  const [beginPlace, endPlace] = [Math.floor(fromMs / widthMs), Math.ceil(toMs / widthMs)];
  const sums = new Map<number, Sum>();
  for (const { fromMs: beginMs, low, high, mean, count } of buckets) {
    const place = Math.floor(beginMs / widthMs);
    if (place < beginPlace || place >= endPlace) continue;
    const known = sums.get(place);
    if (known === undefined) sums.set(place, { low, high, sum: mean * count, count });
    else join(known, low, high, mean * count, count);
  }
  return [...sums].map(([place, sum]) => finished(sum, place * widthMs, (place + 1) * widthMs));
}

function join(into: Sum, low: number, high: number, sum: number, count: number): void {
  into.low = Math.min(into.low, low);
  into.high = Math.max(into.high, high);
  into.sum += sum;
  into.count += count;
}

function finished({ low, high, sum, count }: Sum, fromMs: number, toMs: number): Bucket {
  return { fromMs, toMs, low, high, mean: sum / count, count };
}
