import type { Listed } from './listing.js';
import type { RecordingProblem } from './parse.js';

const PROBLEM_WORDS: Readonly<Record<RecordingProblem, string>> = {
  altered: 'changed since it was closed',
  damaged: 'damaged lines',
  'too-long': 'damaged lines',
  'not-text': 'damaged lines',
  torn: 'cut off',
  'not-closed': 'not closed',
  'part-missing': 'a part is missing',
  lost: 'gaps from a full disk',
};

/** How far a recording is as it was when it was closed. Gravest first; gaps that the disk left are part of an intact file. */
export function stateWords({
  problems,
  header: { repairedFrom, version },
}: Pick<Listed, 'problems' | 'header'>): string {
  const grave = (Object.keys(PROBLEM_WORDS) as RecordingProblem[]).find(
    (problem) => problem !== 'lost' && problems[problem] !== undefined,
  );
  if (grave !== undefined) return PROBLEM_WORDS[grave];
  if (repairedFrom !== undefined) {
    return repairedFrom.altered ? 'repaired copy of a changed file' : 'repaired copy';
  }
  return version === 1 ? 'closed, no seal' : 'intact';
}
