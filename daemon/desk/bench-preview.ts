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

/** What a bench file says with the edits in it, and everything that is wrong with it. */
export function benchPreview({ text, edits }: BenchRequest, file: string, ground: BenchGround): BenchPreview {
  let now = text;
  let refused: string | null = null;
  try {
    now = edits.reduce(editedBench, text);
  } catch (error) {
    if (!(error instanceof EditRefused)) throw error;
    refused = error.message;
  }
  return { text: now, instruments: benchForm(now), problems: benchProblems(now, file, ground), refused };
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
