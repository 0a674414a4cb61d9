import type { DesignPreview, PreviewRequest } from '../serve/design-messages.js';
import { isRecord, startBeside, type SideThread } from '../side-thread.js';
import type { BenchRequest } from '../serve/instrument-messages.js';
import type { ChangedBench } from './bench-preview.js';
import type { DeskAnswer, DeskAsk, DeskTask } from './desk-worker.js';

/** Works a preview out; rejects when it can't be, with a sentence for a person. */
export type Previewer = (request: PreviewRequest, file: string) => Promise<DesignPreview>;
/** Puts edits into a bench file's text; rejects as a `Previewer` does. */
export type BenchChanger = (request: BenchRequest) => Promise<ChangedBench>;

/** What waits at once; a page has one under way and one behind it. */
const MOST_WAITING = 16;
/** What takes longer is given up; the largest examples take a third of a second. */
const LONGEST_MS = 15_000;

interface Waiting {
  readonly resolve: (answer: DeskAnswer['answer']) => void;
  readonly reject: (error: Error) => void;
}

/** Files that are being written, on a thread of its own that the first one starts: watching never waits for them. */
export class DeskThread {
  #thread: SideThread | null = null;
  #next = 0;
  readonly #waiting = new Map<number, Waiting>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  readonly preview: Previewer = async (request, file) =>
    (await this.#asked({ kind: 'design', request, file })) as DesignPreview;

  readonly changeBench: BenchChanger = async (request) =>
    (await this.#asked({ kind: 'bench', request })) as ChangedBench;

  /** Ends the thread; what waits is rejected. */
  async close(): Promise<void> {
    const thread = this.#thread;
    this.#giveUp('the program is ending');
    await thread?.end();
  }

  #asked(ask: DeskAsk): Promise<DeskAnswer['answer']> {
    if (this.#waiting.size >= MOST_WAITING) {
      return Promise.reject(new Error('too many files are being worked out at once; try again in a moment'));
    }
    return new Promise((resolve, reject) => {
      const number = this.#next++;
      this.#thread ??= this.#started();
      this.#waiting.set(number, { resolve, reject });
      this.#thread.tell({ number, ask } satisfies DeskTask);
      this.#timer ??= this.#deadline();
    });
  }

  #started(): SideThread {
    const thread = startBeside(new URL('./desk-worker.js', import.meta.url), {
      isSaid: isDeskAnswer,
      onMessage: ({ number, answer }) => {
        this.#waiting.get(number)?.resolve(answer);
        this.#waiting.delete(number);
        clearTimeout(this.#timer);
        this.#timer = this.#waiting.size > 0 ? this.#deadline() : undefined;
      },
      onEnd: (why) => {
        if (thread === this.#thread) this.#giveUp(`the file couldn't be worked out (${why})`);
      },
    });
    return thread;
  }

  #deadline(): ReturnType<typeof setTimeout> {
    const timer = setTimeout(() => {
      const thread = this.#thread;
      this.#giveUp('the file takes too long to work out; take the last change back');
      void thread?.end();
    }, LONGEST_MS);
    return timer.unref();
  }

  /** The next one starts a new thread. */
  #giveUp(why: string): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#thread = null;
    for (const { reject } of this.#waiting.values()) reject(new Error(why));
    this.#waiting.clear();
  }
}

function isDeskAnswer(said: unknown): said is DeskAnswer {
  return isRecord(said) && typeof said['number'] === 'number' && isRecord(said['answer']);
}
