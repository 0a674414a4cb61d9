import type { Cure } from '../prediction.js';
import { changedDesign } from './change-design.js';
import type { Candidate, Problem } from './problem.js';
import { worsened } from './side-effects.js';
import type { AdviceStates } from './states.js';

/** A design with what is wrong with it. */
export interface Judged {
  readonly states: AdviceStates;
  readonly problems: readonly Problem[];
}

/** A larger heatsink is still one; what was missing may come back as too small. */
const SAME: Readonly<Record<string, string>> = { 'heatsink-missing': 'heatsink-small' };

/**
 * The ways out of a problem that hold: each is put into the design, the whole is judged again, the problem must be
 * gone and nothing new may be destroyed or misbehave. What it makes worse otherwise stands beside it.
 * @param judge judges a changed design; null for one that can't be worked out
 */
export function curesOf(
  problem: Problem,
  before: Judged,
  judge: (design: AdviceStates['design']) => Judged | null,
): Cure[] {
  return problem.ways.flatMap((way) => {
    for (const candidate of way) {
      const cure = tried(candidate, problem, before, judge);
      if (cure !== null) return [cure];
    }
    return [];
  });
}

function tried(
  { words, changes }: Candidate,
  problem: Problem,
  before: Judged,
  judge: (design: AdviceStates['design']) => Judged | null,
): Cure | null {
  const after = judge(changedDesign(before.states.design, changes));
  if (after === null || after.problems.some((other) => isSame(other, problem))) return null;
  const fresh = newIn(after, before);
  if (fresh.some(({ severity }) => severity !== 'note')) return null;
  const worsens = [...fresh.map(({ sentence }) => sentence), ...worsened(before.states, after.states)];
  return { words, changes, worsens };
}

function isSame(one: Problem, other: Problem): boolean {
  const name = ({ finding }: Problem) => SAME[finding] ?? finding;
  return one.about === other.about && name(one) === name(other);
}

/** What wasn't there before, or wasn't as grave. */
function newIn(after: Judged, before: Judged): readonly Problem[] {
  const known = (problem: Problem) =>
    before.problems.some(
      (other) =>
        isSame(other, problem) && !(problem.severity === 'destroys' && other.severity !== 'destroys'),
    );
  return after.problems.filter((problem) => !known(problem));
}
