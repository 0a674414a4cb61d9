import { parentPort, workerData } from 'node:worker_threads';
import type { SuspectTask } from './suspect-thread.js';
import { SuspectWeigher, type SuspectQuestion } from './weigher.js';

const { design, seed } = workerData as SuspectTask;
const weigher = new SuspectWeigher(design, seed);

parentPort?.on('message', (question: SuspectQuestion) => parentPort?.postMessage(weigher.judge(question)));
