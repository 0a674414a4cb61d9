import { predictionOf } from '../watch/sample.js';
import type { WatchState } from '../watch/state.js';
import type { Suspect } from '../watch/suspects/judgement.js';
import type { NextPoint } from '../watch/suspects/next-point.js';
import {
  alikeWords,
  evidenceWords,
  nextWords,
  oddWords,
  otherLoadWords,
  parameterWords,
  suspectName,
  type LabelOf,
} from '../watch/suspects/suspect-words.js';
import type { SuspectView, SuspicionView } from './messages.js';

/** As much as a person reads between two looks at the circuit. */
const MOST_EVIDENCE = 3;

/** What the readings speak for, in words; null before anything was weighed. */
export function suspicionView({ suspicion, plan }: WatchState): SuspicionView | null {
  if (suspicion === null) return null;
  const labelOf = (point: string): string => predictionOf(plan.prediction, point)?.label ?? point;
  const { suspects, other, next, odd, parameters, from, otherLoad } = suspicion;
  return {
    from: from.length,
    suspects: suspects.map((suspect) => suspectView(suspect, next, labelOf)),
    other,
    next: next === null ? null : { point: next.point, words: nextWords(next, labelOf) },
    odd: [
      ...(otherLoad == null ? [] : [otherLoadWords(otherLoad)]),
      ...odd.map((point) => oddWords(point, labelOf)),
    ],
    parameters: parameters.map(parameterWords),
  };
}

function suspectView(suspect: Suspect, next: NextPoint | null, labelOf: LabelOf): SuspectView {
  const { title, about, fault, probability, evidence, action } = suspect;
  const alike = alikeWords(suspect, next);
  return {
    id: `${fault} ${about}`,
    about,
    title: suspectName({ title, about }),
    probability,
    isFault: fault !== 'healthy',
    evidence: [
      ...evidence.slice(0, MOST_EVIDENCE).map((one) => `${one.speaks}: ${evidenceWords(one, labelOf)}`),
      ...(alike === null ? [] : [alike]),
    ],
    action: action.words,
  };
}
