import { joinInstruments, type OutsideDrivers } from '../channels.js';
import { FileProblems, loadBench } from '../design/load.js';
import type { Topology } from '../design/test-points.js';
import type { BenchPreview, BenchProblem, BenchRequest } from '../serve/instrument-messages.js';
import { editedBench, EditRefused } from './bench-edits.js';
import { benchForm } from './bench-form.js';

/** What a bench is checked against. */
export interface BenchGround {
  readonly design: Topology;
  readonly outside: OutsideDrivers;
}

/** A bench file with edits in it, before it is checked. */
export type ChangedBench = Omit<BenchPreview, 'problems'>;

/** What a bench file says with the edits in it. */
export function changedBench({ text, edits }: BenchRequest): ChangedBench {
  let now = text;
  let refused: string | null = null;
  try {
    now = edits.reduce(editedBench, text);
  } catch (error) {
    if (!(error instanceof EditRefused || error instanceof FileProblems)) throw error;
    refused = error.message;
  }
  return { text: now, instruments: benchForm(now), refused };
}

/** Everything that keeps a session from being started with it. */
export function benchProblems(text: string, file: string, ground: BenchGround): readonly BenchProblem[] {
  try {
    joinInstruments({ file, text, value: loadBench(text, file, ground.design) }, ground.outside);
    return [];
  } catch (error) {
    if (!(error instanceof FileProblems)) throw error;
    return error.problems.map(problemOf);
  }
}

function problemOf({ file, line, key, text }: FileProblems['problems'][number]): BenchProblem {
  const place = key === '' ? `${file}:${line}: ` : `${file}:${line} ${key}: `;
  return { line, key, words: text.startsWith(place) ? text.slice(place.length) : text };
}
