import type { LoadState } from '../../design/design.js';
import type { Action } from './actions.js';
import type { Evidence } from './evidence.js';
import type { NextPoint } from './next-point.js';
import type { ParameterEstimate } from './parameters.js';

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
  /** Another load than the one that is said to be on, for which the readings speak more; null: none. */
  readonly otherLoad: OtherLoad | null;
}

export interface OtherLoad {
  readonly load: LoadState;
  readonly probability: number;
}

/** A known fault, or none, as a person is told of it. */
export interface SuspectName {
  /** Stable word, `diode-open`; `healthy` for none. */
  readonly fault: string;
  /** The part or rail that has it; empty for the healthy one. */
  readonly about: string;
  /** For a person. */
  readonly title: string;
}

type SuspectKey = Pick<SuspectName, 'fault' | 'about'>;

export function isSameSuspect(one: SuspectKey, other: SuspectKey): boolean {
  return one.fault === other.fault && one.about === other.about;
}

export interface Suspect extends SuspectName {
  readonly probability: number;
  /** The strongest first; given for the five most probable suspects only. */
  readonly evidence: readonly Evidence[];
  readonly action: Action;
  /**
   * Given for the leading one only, once no test point would tell more: those that these readings don't tell from it,
   * the most probable first. Recordings of earlier versions don't say.
   */
  readonly alike?: readonly SuspectName[];
}
