import type { SuspectModel } from './model.js';
import { nextPoint } from './next-point.js';
import type { NextPoint } from './next-point.js';
import { markOf, posterior } from './posterior.js';
import type { Settled } from './posterior.js';

/** What the readings so far say. */
export interface Judgement {
  /** The most probable first; with `other` their probabilities sum to 1. */
  readonly suspects: readonly Suspect[];
  /** That it is something not thought of. */
  readonly other: number;
  readonly next: NextPoint | null;
}

export interface Suspect {
  readonly fault: string;
  readonly about: string;
  readonly title: string;
  readonly probability: number;
}

/**
 * @param settled the latest settled reading of each point, in the order they were taken
 * @param candidates points that a probe can go to; every one by default
 */
export function judge(
  model: SuspectModel,
  settled: readonly Settled[],
  candidates: ReadonlySet<string> = new Set(model.points.map(({ id }) => id)),
): Judgement {
  const marks = settled.flatMap((each) => markOf(model, each) ?? []);
  const found = posterior(model, marks);
  const suspects = model.suspects
    .map(({ fault, about, title }, at) => ({ fault, about, title, probability: found.suspects[at]! }))
    .sort((a, b) => b.probability - a.probability);
  return { suspects, other: found.other, next: nextPoint(model, marks, found, candidates) };
}
