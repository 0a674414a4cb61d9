import type { Bucket } from '../record/session/decimator.js';
import type { CurveView } from '../serve/job-views.js';

/** More digits than any meter has; hides what a sum of many readings adds. */
const DIGITS = 7;
/** Stretches without a reading between two that have some: so many are a gap. */
const GAP_STRETCHES = 3;
/** A slow meter's usual silence is no gap. */
const SHORTEST_GAP_MS = 5000;

/**
 * One curve of the stretches of everything that measured a point, in order of time.
 * @param startMs what counts as 0
 */
export function curveView(buckets: readonly Bucket[], startMs = 0): CurveView {
  const ordered = [...buckets].sort((a, b) => a.fromMs - b.fromMs);
  const widthMs = Math.max(1, ...ordered.map(({ fromMs, toMs }) => toMs - fromMs));
  const joined = joinSame(ordered);
  return {
    atMs: joined.map(({ fromMs, toMs }) => Math.round((fromMs + toMs) / 2 - startMs)),
    low: joined.map(({ low }) => rounded(low)),
    mean: joined.map(({ mean }) => rounded(mean)),
    high: joined.map(({ high }) => rounded(high)),
    gapMs: Math.max(SHORTEST_GAP_MS, GAP_STRETCHES * widthMs, usualStepMs(joined) * GAP_STRETCHES),
  };
}

/** Two channels on one point at once give one stretch that holds both. */
function joinSame(ordered: readonly Bucket[]): readonly Bucket[] {
  const joined: Bucket[] = [];
  for (const bucket of ordered) {
    const last = joined.at(-1);
    if (last === undefined || bucket.fromMs >= last.toMs) {
      joined.push(bucket);
      continue;
    }
    const count = last.count + bucket.count;
    joined[joined.length - 1] = {
      fromMs: last.fromMs,
      toMs: Math.max(last.toMs, bucket.toMs),
      low: Math.min(last.low, bucket.low),
      high: Math.max(last.high, bucket.high),
      mean: (last.mean * last.count + bucket.mean * bucket.count) / count,
      count,
    };
  }
  return joined;
}

/** The median time from one stretch with readings to the next. */
function usualStepMs(buckets: readonly Bucket[]): number {
  const steps = buckets.slice(1).map(({ fromMs }, i) => fromMs - (buckets[i]?.fromMs ?? fromMs));
  return steps.sort((a, b) => a - b)[steps.length >> 1] ?? 0;
}

function rounded(value: number): number {
  return Number(value.toPrecision(DIGITS));
}
