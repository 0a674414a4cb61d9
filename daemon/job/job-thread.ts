import { BackOff } from '../back-off.js';
import { isRecord, startBeside, type SideThread } from '../side-thread.js';
import { backgroundWall, type Wall } from '../time/wall.js';
import type { JobAnswer, JobAsk, JobSource } from '../serve/job-ask.js';
import type { FromJobThread, JobThreadTask, JobWord, ToJobThread } from './thread-messages.js';

/** A recording that would take more breaks the thread, and not the watching. */
const MOST_MEGABYTES = 384;
/** Enough for reading, and far below what the engine would take. */
const YOUNG_MEGABYTES = 16;

export interface JobThreadOptions extends JobThreadTask {
  /** The path at which the running session's recording begins; null: none is being written. */
  readonly running: () => string | null;
  /** Called with why no recording can be read, and with null when one can again. */
  readonly onHealth?: (why: string | null) => void;
  readonly wall?: Wall;
  /** What the thread runs. */
  readonly file?: URL;
}

const JOB_WORKER = new URL('./job-worker.js', import.meta.url);

type Listener = (message: JobWord) => void;

/** Reads recordings on a thread of its own, so that watching never waits for it. The thread starts at the first ask. */
export class JobThread implements JobSource {
  readonly #options: JobThreadOptions;
  readonly #listeners = new Map<number, Listener>();
  /** By ask: lets go of what tells that nobody wants it any more. */
  readonly #letGo = new Map<number, () => void>();
  readonly #backOff: BackOff;
  #thread: SideThread | null = null;
  #isClosing = false;
  #lastId = 0;

  constructor(options: JobThreadOptions) {
    this.#options = options;
    this.#backOff = new BackOff(options.wall ?? backgroundWall);
  }

  answer(ask: JobAsk, signal: AbortSignal): Promise<JobAnswer> {
    const id = (this.#lastId += 1);
    return new Promise((resolve) => {
      this.#listeners.set(id, (message) => {
        if (message.kind === 'begin') return resolve(this.#bodyOf(message));
        this.#forget(id);
        if (message.kind === 'refused') resolve({ ok: false, status: message.status, why: message.why });
        if (message.kind === 'broken') resolve({ ok: false, status: 503, why: message.why });
      });
      const onAbort = (): void => this.#stop(id);
      signal.addEventListener('abort', onAbort, { once: true });
      this.#letGo.set(id, () => signal.removeEventListener('abort', onAbort));
      this.#tell({ kind: 'ask', id, ask, running: this.#options.running() });
    });
  }

  /** What waits is refused. */
  async close(): Promise<void> {
    this.#isClosing = true;
    this.#backOff.stop();
    await this.#thread?.end();
  }

  #bodyOf({ id, styleSha256 }: Extract<JobWord, { kind: 'begin' }>): JobAnswer {
    return { ok: true, chunks: this.#blocks(id), ...(styleSha256 !== null && { styleSha256 }) };
  }

  async *#blocks(id: number): AsyncGenerator<string, void, void> {
    for (;;) {
      const message = await this.#more(id);
      if (message.kind === 'end') return;
      if (message.kind !== 'block') throw new Error('The recording could not be read to its end.');
      yield message.text;
    }
  }

  #more(id: number): Promise<JobWord> {
    return new Promise((resolve) => {
      if (!this.#listeners.has(id)) return resolve({ kind: 'broken', id, why: 'nobody wants it any more' });
      this.#listeners.set(id, (message) => {
        if (message.kind !== 'block') this.#forget(id);
        resolve(message);
      });
      this.#tell({ kind: 'more', id });
    });
  }

  #stop(id: number): void {
    const listener = this.#listeners.get(id);
    if (listener === undefined) return;
    this.#forget(id);
    this.#tell({ kind: 'stop', id });
    listener({ kind: 'broken', id, why: 'nobody wants it any more' });
  }

  #forget(id: number): void {
    this.#listeners.delete(id);
    this.#letGo.get(id)?.();
    this.#letGo.delete(id);
  }

  #tell(message: ToJobThread): void {
    this.#thread ??= this.#started();
    this.#thread.tell(message);
  }

  #started(): SideThread {
    this.#isClosing = false;
    this.#backOff.stop();
    const { folder, software, file = JOB_WORKER } = this.#options;
    const thread = startBeside(file, {
      workerData: { folder, software } satisfies JobThreadTask,
      resourceLimits: { maxOldGenerationSizeMb: MOST_MEGABYTES, maxYoungGenerationSizeMb: YOUNG_MEGABYTES },
      isSaid: isFromJobThread,
      onMessage: (message) => this.#take(message),
      onEnd: (why) => this.#failed(thread, why),
    });
    return thread;
  }

  #take(message: FromJobThread): void {
    if (message.kind !== 'ready') return this.#listeners.get(message.id)?.(message);
    this.#backOff.reset();
    this.#options.onHealth?.(null);
  }

  /** The next ask starts another one; without an ask it starts by itself a little later. */
  #failed(thread: SideThread, why: string): void {
    if (this.#thread !== thread) return;
    this.#thread = null;
    if (!this.#isClosing) {
      this.#backOff.later(() => (this.#thread ??= this.#started()));
      this.#options.onHealth?.(why);
    }
    for (const [id, listener] of [...this.#listeners]) {
      this.#forget(id);
      listener({ kind: 'broken', id, why: `What reads recordings stopped (${why}); try again.` });
    }
  }
}

function isFromJobThread(said: unknown): said is FromJobThread {
  if (!isRecord(said)) return false;
  const { kind, id, text, why } = said;
  if (kind === 'ready') return true;
  if (typeof id !== 'number') return false;
  if (kind === 'block') return typeof text === 'string';
  if (kind === 'refused' || kind === 'broken') return typeof why === 'string';
  return kind === 'begin' || kind === 'end';
}
