import type { Design } from '../design/design.js';
import { isRecord, startBeside } from '../side-thread.js';
import type { Judgement } from '../watch/suspects/judgement.js';
import type { Ways } from '../watch/suspects/next-point.js';
import type { SuspectQuestion } from './weigher.js';

/** The supply that is weighed. */
export interface SuspectTask {
  readonly design: Design;
  readonly seed: number;
  /** How the bench measures each test point that it can; left out: the bench isn't known. */
  readonly ways?: Ways;
}

export interface SuspectThreadEvents {
  readonly onJudged: (judgement: Judgement) => void;
  /** The thread has ended by itself; nothing is judged any more. */
  readonly onFailed: (why: string) => void;
}

/** Weighs settled readings against every known fault, one set after the other. */
export interface SuspectThread {
  /** Each call is answered by one `onJudged`, in order; the first one under a load after some seconds. */
  weigh(question: SuspectQuestion): void;
  /** Nothing is told after this. */
  stop(): void;
}

export type StartSuspectThread = (task: SuspectTask, events: SuspectThreadEvents) => SuspectThread;

/** On a thread of its own, so that watching never waits for it. */
export const startSuspectThread: StartSuspectThread = (task, { onJudged, onFailed }) => {
  let isStopped = false;
  const thread = startBeside(new URL('./suspect-worker.js', import.meta.url), {
    workerData: task,
    isSaid: isJudgement,
    onMessage: (judgement) => {
      if (!isStopped) onJudged(judgement);
    },
    onEnd: (why) => {
      if (!isStopped) onFailed(why);
      isStopped = true;
    },
  });
  return {
    weigh: (question) => thread.tell(question),
    stop() {
      isStopped = true;
      void thread.end();
    },
  };
};

/** As far as an event is made of it; the session looks at that before it takes it. */
function isJudgement(said: unknown): said is Judgement {
  if (!isRecord(said)) return false;
  const { suspects, other } = said;
  return Array.isArray(suspects) && suspects.every(isRecord) && isRecord(other);
}
