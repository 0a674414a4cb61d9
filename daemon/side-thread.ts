import { Worker, type WorkerOptions } from 'node:worker_threads';
import { onThreadEnd } from './thread-end.js';

export interface SideThreadOptions<Said> extends Pick<WorkerOptions, 'workerData' | 'resourceLimits'> {
  /** Whether it has the shape of what this thread says; anything else ends the thread. */
  readonly isSaid: (message: unknown) => message is Said;
  readonly onMessage: (message: Said) => void;
  /** Called once, never within the start: it could not be started, ended, was ended, or said what makes no sense. */
  readonly onEnd: (why: string) => void;
}

/** A thread that works beside the program, does not keep it running, and can do no more harm than to end. */
export interface SideThread {
  /** What is told to a thread that has ended is lost. */
  tell(message: unknown): void;
  /** Resolves when it runs no more. */
  end(): Promise<void>;
}

/** Starts a thread from its compiled file. Never throws: a thread that can't be started has ended. */
export function startBeside<Said>(file: URL, options: SideThreadOptions<Said>): SideThread {
  const { isSaid, onMessage, onEnd, ...settings } = options;
  let thread: Worker;
  try {
    thread = new Worker(file, settings);
  } catch (problem) {
    const why = problem instanceof Error ? problem.message : String(problem);
    setImmediate(() => onEnd(`it can't be started (${why}); end other programs`));
    return { tell: () => undefined, end: () => Promise.resolve() };
  }
  let isOver = false;
  const over = (why: string): void => {
    if (!isOver) onEnd(why);
    isOver = true;
  };
  const senseless = (): void => {
    over('it said what makes no sense');
    void thread.terminate();
  };
  // The listeners come before `unref`, for each new one holds the program up again.
  thread.on('message', (message: unknown) => {
    if (isOver) return;
    if (isSaid(message)) onMessage(message);
    else senseless();
  });
  thread.on('messageerror', senseless);
  onThreadEnd(thread, over);
  thread.unref();
  return {
    tell: (message) => thread.postMessage(message),
    end: async () => void (await thread.terminate()),
  };
}

/** Whether something that a thread said has keys at all. */
export function isRecord(said: unknown): said is Readonly<Record<string, unknown>> {
  return typeof said === 'object' && said !== null;
}
