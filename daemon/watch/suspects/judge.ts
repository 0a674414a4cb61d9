import { OTHER_ACTION, actionOn } from './actions.js';
import type { Action } from './actions.js';
import { RIPPLE_HERTZ } from './clouds.js';
import { evidenceOf } from './evidence.js';
import type { Evidence } from './evidence.js';
import type { SuspectModel } from './model.js';
import { nextPoint } from './next-point.js';
import type { NextPoint } from './next-point.js';
import { parametersOf } from './parameters.js';
import type { ParameterEstimate } from './parameters.js';
import { posterior } from './posterior.js';
import { marksOf } from './settled.js';
import type { Settled } from './settled.js';

/** What the readings so far say. */
export interface Judgement {
  /** The most probable first; with `other` their probabilities sum to 1. */
  readonly suspects: readonly Suspect[];
  /** That it is something not thought of. */
  readonly other: { readonly probability: number; readonly action: Action };
  /** Null where no probe would tell much more. */
  readonly next: NextPoint | null;
  /** Points whose reading is more probably odd than not: a probe on the wrong pin, a misread range. */
  readonly odd: readonly string[];
  readonly parameters: readonly ParameterEstimate[];
}

export interface Suspect {
  /** Stable word, `diode-open`; `healthy` for none. */
  readonly fault: string;
  /** The part or rail that has it; empty for the healthy one. */
  readonly about: string;
  /** For a person. */
  readonly title: string;
  readonly probability: number;
  /** The strongest first; given for the five most probable suspects only. */
  readonly evidence: readonly Evidence[];
  readonly action: Action;
}

/** As many suspects as a person follows. */
const EXPLAINED = 5;

/**
 * Says which faults the settled readings speak for, and what to measure next.
 * @param settled readings that no longer move, in the order they were taken; of one point the latest counts
 * @param candidates points that a probe can go to; by default every test point
 * @throws {RangeError} for a reading that isn't a finite number, or without a sensible uncertainty.
 */
export function judge(
  model: SuspectModel,
  settled: readonly Settled[],
  candidates: ReadonlySet<string> = testPoints(model),
): Judgement {
  const { points } = model;
  const marks = marksOf(points, settled);
  const found = posterior(model, marks);
  const order = model.suspects
    .map((_, place) => place)
    .sort((a, b) => found.suspects[b]! - found.suspects[a]!);
  const healthy = model.suspects[model.healthy]!;
  const leadingFault = model.suspects[order.find((place) => place !== model.healthy) ?? model.healthy]!;
  const suspects = order.map((place, rank) => {
    const suspect = model.suspects[place]!;
    const { fault, about, title } = suspect;
    const rival = place === model.healthy ? leadingFault : healthy;
    return {
      fault,
      about,
      title,
      probability: found.suspects[place]!,
      evidence: rank < EXPLAINED ? evidenceOf(suspect, rival, healthy, marks, points) : [],
      action: actionOn(fault),
    };
  });
  return {
    suspects,
    other: { probability: found.other, action: OTHER_ACTION },
    next: nextPoint(model, marks, found, candidates),
    odd: marks.flatMap(({ place }, row) => (found.odd[row]! > 0.5 ? [points[place]!.id] : [])),
    parameters: parametersOf(found, marks, points.length),
  };
}

/** The ripple's frequency takes a scope, so it is asked for only where the caller says that there is one. */
function testPoints({ points }: SuspectModel): ReadonlySet<string> {
  return new Set(points.map(({ id }) => id).filter((id) => id !== RIPPLE_HERTZ));
}
