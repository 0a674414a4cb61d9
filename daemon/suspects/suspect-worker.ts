import { parentPort, workerData } from 'node:worker_threads';
import { suspectClouds } from '../watch/suspects/clouds.js';
import { judge } from '../watch/suspects/judge.js';
import { beginSuspects } from '../watch/suspects/model.js';
import type { Settled } from '../watch/suspects/settled.js';
import type { SuspectTask } from './suspect-thread.js';

const { design, load, seed } = workerData as SuspectTask;
const model = beginSuspects([...suspectClouds(design, { load, seed })]);

parentPort?.on('message', (settled: readonly Settled[]) => parentPort?.postMessage(judge(model, settled)));
