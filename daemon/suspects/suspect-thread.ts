import { Worker } from 'node:worker_threads';
import type { Design, LoadState } from '../design/design.js';
import { onThreadEnd } from '../thread-end.js';
import type { Judgement } from '../watch/suspects/judge.js';
import type { Settled } from '../watch/suspects/settled.js';

/** The supply that is weighed. */
export interface SuspectTask {
  readonly design: Design;
  readonly load: LoadState;
  readonly seed: number;
}

export interface SuspectThreadEvents {
  readonly onJudged: (judgement: Judgement) => void;
  /** The thread has ended by itself; nothing is judged any more. */
  readonly onFailed: (why: string) => void;
}

/** Weighs settled readings against every known fault, one set after the other. */
export interface SuspectThread {
  /** Each call is answered by one `onJudged`, in order; the first one after a second or more. */
  weigh(settled: readonly Settled[]): void;
  /** Nothing is told after this. */
  stop(): void;
}

export type StartSuspectThread = (task: SuspectTask, events: SuspectThreadEvents) => SuspectThread;

/** On a thread of its own, so that watching never waits for it. */
export const startSuspectThread: StartSuspectThread = (task, { onJudged, onFailed }) => {
  const thread = new Worker(new URL('./suspect-worker.js', import.meta.url), { workerData: task });
  let isStopped = false;
  thread.unref();
  thread.on('message', (judgement: Judgement) => {
    if (!isStopped) onJudged(judgement);
  });
  onThreadEnd(thread, (why) => {
    if (!isStopped) onFailed(why);
    isStopped = true;
  });
  return {
    weigh: (settled) => thread.postMessage(settled),
    stop() {
      isStopped = true;
      void thread.terminate();
    },
  };
};
