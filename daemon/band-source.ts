import { Worker } from 'node:worker_threads';
import type { Design } from './design/design.js';
import type { BandAnswer, BandQuestion } from './expected-bands.js';

/** Works out expected bands elsewhere, so that watching never waits for it. */
export interface BandSource {
  /** Answers come in the order of the questions; null: it can't be worked out. None after trouble or `stop`. */
  ask(question: BandQuestion, onAnswer: (answer: BandAnswer | null) => void): void;
  /** Safe to call twice. */
  stop(): Promise<void>;
}

/** What the thread is asked for at its start. */
export interface BandTask {
  readonly design: Design;
  readonly seed: number;
}

/**
 * Works bands out on a thread of its own.
 * @param onTrouble is told why, once, when the thread fails; what is expected then stays as it was.
 */
export function threadedBands(task: BandTask, onTrouble: (why: string) => void): BandSource {
  const thread = new Worker(new URL('./band-worker.js', import.meta.url), { workerData: task });
  const waiting: ((answer: BandAnswer | null) => void)[] = [];
  thread.on('message', (answer: BandAnswer | null) => {
    waiting.shift()?.(answer);
  });
  thread.once('error', (error) => onTrouble(error.message));
  thread.unref();
  return {
    ask(question, onAnswer) {
      waiting.push(onAnswer);
      thread.postMessage(question);
    },
    async stop() {
      await thread.terminate();
    },
  };
}
