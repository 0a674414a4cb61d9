import { conformanceProbability, crossedLimit, leaningOf, verdictOf } from './compare.js';
import type { Draft } from './draft.js';
import type { Verdict } from './effects.js';
import type { Sample } from './sample.js';
import type { PointState } from './state.js';

/**
 * Judges one number and tells a verdict that changed. Null while its readings tell nothing yet; a limit counts all the
 * same, on the bare value.
 */
export function judge(draft: Draft, sample: Sample, isTelling: boolean): Verdict | null {
  const { point, value, guard, prediction } = sample;
  if (!isTelling && crossedLimit(value, prediction.limits) === null) {
    tellUnjudged(draft, point);
    return null;
  }
  const verdict = verdictOf(value, prediction, guard);
  if (verdict !== point.verdict) tellVerdict(draft, sample, verdict);
  return verdict;
}

/** The point's last reading gives no verdict. */
export function tellUnjudged(draft: Draft, { id, verdict }: PointState): void {
  if (verdict !== null) tellNoVerdict(draft, id);
}

export function tellNoVerdict(draft: Draft, point: string): void {
  draft.tell({
    kind: 'verdict',
    atMs: draft.atMs,
    point,
    verdict: null,
    value: null,
    probability: null,
    leaning: null,
  });
}

function tellVerdict(draft: Draft, { point, value, guard, prediction }: Sample, verdict: Verdict): void {
  const { high, limits } = prediction;
  const low = prediction.coldest ?? prediction.low;
  const isBeyond = crossedLimit(value, limits) !== null;
  draft.tell({
    kind: 'verdict',
    atMs: draft.atMs,
    point: point.id,
    verdict,
    value,
    probability: isBeyond ? null : conformanceProbability(value, low, high, guard),
    leaning: verdict === 'doubtful' ? leaningOf(value, low, high) : null,
  });
}
