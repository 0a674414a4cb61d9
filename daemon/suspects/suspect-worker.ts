import { parentPort, workerData } from 'node:worker_threads';
import type { SuspectTask } from './suspect-thread.js';
import { SuspectWeigher, type SuspectQuestion } from './weigher.js';

const weigher = new SuspectWeigher(workerData as SuspectTask);

parentPort?.on('message', (question: SuspectQuestion) => parentPort?.postMessage(weigher.judge(question)));
