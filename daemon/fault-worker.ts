import { parentPort, workerData } from 'node:worker_threads';
import type { Design } from './design/design.js';
import { faultClouds, type FaultCloud } from './predict/fault-clouds.js';
import type { PredictOptions } from './predict/prediction.js';

/** What the thread is asked for. */
export interface FaultTask {
  readonly design: Design;
  readonly options: PredictOptions;
}

const { design, options } = workerData as FaultTask;
for (const cloud of faultClouds(design, options)) parentPort?.postMessage(cloud, buffersOf(cloud));

/** Handed over rather than copied. */
function buffersOf({ cloud }: FaultCloud): ArrayBuffer[] {
  if (cloud === null) return [];
  return [...cloud.inputs, ...Object.values(cloud.results)].map(({ buffer }) => buffer as ArrayBuffer);
}
