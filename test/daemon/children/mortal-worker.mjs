// A thread that is ready and answers, or dies of what it is asked, as the environment says when it starts.
import { parentPort } from 'node:worker_threads';

const DEATHS = {
  throw: () => {
    throw new Error('no table for this');
  },
  exit: () => process.exit(3),
  rubbish: () => parentPort?.postMessage('a table for nothing'),
  bands: () =>
    parentPort?.postMessage({
      kind: 'answer',
      answer: { load: 'idle', measured: [], bands: { 'logic.volts': { low: 'no number' } } },
    }),
  memory: () => {
    const kept = [];
    for (;;) kept.push(new Array(100_000).fill(kept.length));
  },
};

const die = DEATHS[process.env['MORTAL_WORKER'] ?? ''];
parentPort?.on('message', (asked) => {
  die?.();
  if (asked?.kind === 'ask')
    parentPort?.postMessage({ kind: 'refused', id: asked.id, status: 404, why: 'none' });
  else parentPort?.postMessage({ kind: 'answer', answer: null });
});
parentPort?.postMessage({ kind: 'ready' });
