import { Worker } from 'node:worker_threads';
import type { FaultTask } from './fault-worker.js';
import type { FaultCloud } from './predict/fault-clouds.js';

/**
 * Draws the cloud of every known fault on a thread of its own, so that watching never waits for it.
 * @param onCloud is called for each as it comes
 * @throws {Error} when the thread fails; what came before was handed over.
 */
export function drawFaultClouds(task: FaultTask, onCloud: (cloud: FaultCloud) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    const thread = new Worker(new URL('./fault-worker.js', import.meta.url), { workerData: task });
    thread.on('message', onCloud);
    thread.once('error', reject);
    thread.once('exit', (code) => {
      if (code === 0) resolve();
      else reject(new Error(`the thread that draws fault clouds ended with code ${code}`));
    });
  });
}
