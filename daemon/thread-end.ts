import type { Worker } from 'node:worker_threads';

/** Calls once, with why, when a thread ends: it threw, ran out of memory, left by itself or was ended. */
export function onThreadEnd(thread: Worker, onEnd: (why: string) => void): void {
  let isTold = false;
  const tell = (why: string): void => {
    if (!isTold) onEnd(why);
    isTold = true;
  };
  thread.once('error', (error) => tell(error instanceof Error ? error.message : String(error)));
  thread.once('exit', (code) => tell(`it ended by itself with code ${code}`));
}
