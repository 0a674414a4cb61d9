import { parentPort, workerData } from 'node:worker_threads';
import { JobDesk } from './job-desk.js';
import type { FromJobThread, JobThreadTask, ToJobThread } from './thread-messages.js';

const { folder, software } = workerData as JobThreadTask;
const desk = new JobDesk(folder, software);
/** Null while its answer is being made; not there when nobody wants it any more. */
const bodies = new Map<number, AsyncIterator<string> | null>();

function tell(message: FromJobThread): void {
  parentPort?.postMessage(message);
}

parentPort?.on('message', (message: ToJobThread) => {
  switch (message.kind) {
    case 'ask':
      return void begin(message);
    case 'more':
      return void goOn(message.id);
    case 'stop':
      return void stop(message.id);
  }
});

tell({ kind: 'ready' });

async function begin({ id, ask, running }: Extract<ToJobThread, { kind: 'ask' }>): Promise<void> {
  bodies.set(id, null);
  const answer = await desk.answer(ask, running);
  if (!bodies.has(id)) return;
  if (answer.ok) {
    bodies.set(id, answer.chunks[Symbol.asyncIterator]());
    return tell({ kind: 'begin', id, styleSha256: answer.styleSha256 ?? null });
  }
  bodies.delete(id);
  tell({ kind: 'refused', id, status: answer.status, why: answer.why });
}

async function goOn(id: number): Promise<void> {
  try {
    const next = await bodies.get(id)?.next();
    if (next !== undefined && next.done !== true) return tell({ kind: 'block', id, text: next.value });
    tell({ kind: 'end', id });
  } catch (error) {
    tell({ kind: 'broken', id, why: messageOf(error) });
  }
  bodies.delete(id);
}

async function stop(id: number): Promise<void> {
  const body = bodies.get(id);
  bodies.delete(id);
  // A source that can't even be closed has nothing left to lose.
  await body?.return?.().catch(() => undefined);
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
