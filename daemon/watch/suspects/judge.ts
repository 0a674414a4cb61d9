import type { SuspectModel } from './model.js';
import type { Judgement } from './judgement.js';
import type { Settled } from './settled.js';
import { judgeUnderLoads } from './under-loads.js';

/**
 * Says which faults the settled readings speak for, and what to measure next.
 * @param settled readings that no longer move, in the order they were taken; of one point the latest counts
 * @param candidates points that a probe can go to; by default every test point
 * @throws {RangeError} for a reading that isn't a finite number, or without a sensible uncertainty.
 */
export function judge(
  model: SuspectModel,
  settled: readonly Settled[],
  candidates?: ReadonlySet<string>,
): Judgement {
  return judgeUnderLoads([{ load: null, share: 1, model }], settled, candidates);
}
