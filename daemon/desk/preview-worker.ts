import { parentPort } from 'node:worker_threads';
import type { PreviewRequest } from '../serve/design-messages.js';
import { previewOf } from './preview.js';

/** What the thread is asked for; the answer carries the same number. */
export interface PreviewTask {
  readonly number: number;
  readonly request: PreviewRequest;
  readonly file: string;
}

parentPort?.on('message', ({ number, request, file }: PreviewTask) => {
  parentPort?.postMessage({ number, preview: previewOf(request, file) });
});
