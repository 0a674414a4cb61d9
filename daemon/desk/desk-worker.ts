import { parentPort } from 'node:worker_threads';
import type { DesignPreview, PreviewRequest } from '../serve/design-messages.js';
import type { BenchRequest } from '../serve/instrument-messages.js';
import { changedBench, type ChangedBench } from './bench-preview.js';
import { previewOf } from './preview.js';

/** What the thread is asked for. */
export type DeskAsk =
  | { readonly kind: 'design'; readonly request: PreviewRequest; readonly file: string }
  | { readonly kind: 'bench'; readonly request: BenchRequest };

/** The answer carries the same number. */
export interface DeskTask {
  readonly number: number;
  readonly ask: DeskAsk;
}

export interface DeskAnswer {
  readonly number: number;
  readonly answer: DesignPreview | ChangedBench;
}

parentPort?.on('message', ({ number, ask }: DeskTask) => {
  const answer = ask.kind === 'design' ? previewOf(ask.request, ask.file) : changedBench(ask.request);
  parentPort?.postMessage({ number, answer } satisfies DeskAnswer);
});
