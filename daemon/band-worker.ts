import { parentPort, workerData } from 'node:worker_threads';
import type { BandTask, FromBandThread } from './band-source.js';
import { ExpectedBands, type BandAnswer, type BandQuestion } from './expected-bands.js';
import { SupplyError } from './predict/engine/supply-error.js';

const { design, seed } = workerData as BandTask;
const bands = new ExpectedBands(design, seed);
parentPort?.on('message', (question: BandQuestion) => say({ kind: 'answer', answer: answered(question) }));
say({ kind: 'ready' });

function say(word: FromBandThread): void {
  parentPort?.postMessage(word);
}

/** Null where the supply has no steady state in that load state. */
function answered(question: BandQuestion): BandAnswer | null {
  try {
    return bands.answer(question);
  } catch (error) {
    if (error instanceof SupplyError) return null;
    throw error;
  }
}
