import { judge } from '../../../../daemon/watch/suspects/judge.js';
import type { Judgement } from '../../../../daemon/watch/suspects/judgement.js';
import type { SuspectModel } from '../../../../daemon/watch/suspects/model.js';
import type { Settled } from '../../../../daemon/watch/suspects/settled.js';

/** A supply measured one point after the other, up to the first reading that leaves no doubt or nothing to ask. */
export interface StepByStep {
  /** What was said after each reading. */
  readonly steps: readonly Judgement[];
  /** How many it took to be sure; all that there are where that never came. */
  readonly readings: number;
}

const SURE = 0.9;

/** Measures where the judgement so far says that it tells most. */
export function followingTheAdvice(model: SuspectModel, settled: readonly Settled[]): StepByStep {
  const points = new Set(settled.map(({ point }) => point));
  return stepByStep(model, settled, points, ({ next }) => next?.point);
}

/** Measures down the list, whatever the readings say. */
export function topToBottom(model: SuspectModel, settled: readonly Settled[]): StepByStep {
  return stepByStep(model, settled, new Set(), (_, taken) => settled[taken]!.point);
}

function stepByStep(
  model: SuspectModel,
  settled: readonly Settled[],
  candidates: ReadonlySet<string>,
  pointAfter: (judgement: Judgement, taken: number) => string | undefined,
): StepByStep {
  const taken: Settled[] = [];
  const steps: Judgement[] = [];
  let judgement = judge(model, taken, candidates);
  while (taken.length < settled.length) {
    const point = pointAfter(judgement, taken.length);
    if (point === undefined) break;
    taken.push(settled.find((each) => each.point === point)!);
    judgement = judge(model, taken, candidates);
    steps.push(judgement);
    if (judgement.suspects[0]!.probability >= SURE) return { steps, readings: taken.length };
  }
  return { steps, readings: settled.length };
}
