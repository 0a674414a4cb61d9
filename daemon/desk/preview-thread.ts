import { Worker } from 'node:worker_threads';
import type { DesignPreview, PreviewRequest } from '../serve/design-messages.js';
import type { PreviewTask } from './preview-worker.js';

/** Works a preview out; rejects when it can't be, with a sentence for a person. */
export type Previewer = (request: PreviewRequest, file: string) => Promise<DesignPreview>;

/** Previews that wait at once; a page has one under way and one behind it. */
const MOST_WAITING = 16;
/** A design that takes longer is given up; the largest examples take a third of a second. */
const LONGEST_MS = 15_000;

interface Waiting {
  readonly resolve: (preview: DesignPreview) => void;
  readonly reject: (error: Error) => void;
}

/** Previews on a thread of its own, started with the first one, so that watching never waits for them. */
export class PreviewThread {
  #thread: Worker | null = null;
  #next = 0;
  readonly #waiting = new Map<number, Waiting>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  readonly preview: Previewer = (request, file) => {
    if (this.#waiting.size >= MOST_WAITING) {
      return Promise.reject(
        new Error('too many designs are being worked out at once; try again in a moment'),
      );
    }
    return new Promise((resolve, reject) => {
      const number = this.#next++;
      this.#waiting.set(number, { resolve, reject });
      this.#thread ??= this.#started();
      this.#thread.postMessage({ number, request, file } satisfies PreviewTask);
      this.#timer ??= this.#deadline();
    });
  };

  /** Ends the thread; what waits is rejected. */
  async close(): Promise<void> {
    const thread = this.#thread;
    this.#giveUp('the program is ending');
    await thread?.terminate();
  }

  #started(): Worker {
    const thread = new Worker(new URL('./preview-worker.js', import.meta.url));
    thread.unref();
    thread.on('message', (answer: { number: number; preview: DesignPreview }) => {
      this.#waiting.get(answer.number)?.resolve(answer.preview);
      this.#waiting.delete(answer.number);
      clearTimeout(this.#timer);
      this.#timer = this.#waiting.size > 0 ? this.#deadline() : undefined;
    });
    thread.once('error', (error) => {
      if (thread === this.#thread) this.#giveUp(`the design couldn't be worked out (${error.message})`);
    });
    return thread;
  }

  #deadline(): ReturnType<typeof setTimeout> {
    const timer = setTimeout(() => {
      const thread = this.#thread;
      this.#giveUp('the design takes too long to work out; take the last change back');
      void thread?.terminate();
    }, LONGEST_MS);
    return timer.unref();
  }

  /** The next preview starts a new thread. */
  #giveUp(why: string): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#thread = null;
    for (const { reject } of this.#waiting.values()) reject(new Error(why));
    this.#waiting.clear();
  }
}
