import { BackOff } from './back-off.js';
import type { Design } from './design/design.js';
import type { BandAnswer, BandQuestion } from './expected-bands.js';
import { isRecord, startBeside, type SideThread } from './side-thread.js';
import { backgroundWall, type Wall } from './time/wall.js';

/** Works out expected bands elsewhere, so that watching never waits for it. */
export interface BandSource {
  /** Answers come in the order of the questions, after trouble later; null: it can't be worked out. None after `stop`. */
  ask(question: BandQuestion, onAnswer: (answer: BandAnswer | null) => void): void;
  /** From now on calls `listener` with why nothing is worked out, and with null when it is again. One listener. */
  onHealth(listener: (why: string | null) => void): void;
  /** Safe to call twice. */
  stop(): Promise<void>;
}

/** What the thread is asked for at its start. */
export interface BandTask {
  readonly design: Design;
  readonly seed: number;
}

/** What the thread says: that it is ready, then an answer for each question. */
export type FromBandThread =
  { readonly kind: 'ready' } | { readonly kind: 'answer'; readonly answer: BandAnswer | null };

export interface BandThreadOptions {
  readonly wall?: Wall;
  /** What the thread runs. */
  readonly file?: URL;
}

/** Works bands out on a thread of its own. One that ends is started again and asked anew, later each time. */
export function threadedBands(task: BandTask, options: BandThreadOptions = {}): BandSource {
  return new ThreadedBands(task, options);
}

/** A question on which the thread has ended so often is answered with null. */
const MOST_TRIES = 2;

const BAND_WORKER = new URL('./band-worker.js', import.meta.url);

interface Waiting {
  readonly question: BandQuestion;
  readonly onAnswer: (answer: BandAnswer | null) => void;
  /** How often the thread has ended over it. */
  ends: number;
}

class ThreadedBands implements BandSource {
  readonly #task: BandTask;
  readonly #file: URL;
  readonly #backOff: BackOff;
  /** The oldest first. */
  readonly #waiting: Waiting[] = [];
  #thread: SideThread | null;
  #onHealth: (why: string | null) => void = () => undefined;
  #isStopped = false;

  constructor(task: BandTask, { wall = backgroundWall, file = BAND_WORKER }: BandThreadOptions) {
    this.#task = task;
    this.#file = file;
    this.#backOff = new BackOff(wall);
    this.#thread = this.#started();
  }

  ask(question: BandQuestion, onAnswer: (answer: BandAnswer | null) => void): void {
    this.#waiting.push({ question, onAnswer, ends: 0 });
    this.#thread?.tell(question);
  }

  onHealth(listener: (why: string | null) => void): void {
    this.#onHealth = listener;
  }

  async stop(): Promise<void> {
    this.#isStopped = true;
    this.#backOff.stop();
    await this.#thread?.end();
  }

  #started(): SideThread {
    return startBeside(this.#file, {
      workerData: this.#task,
      isSaid: isFromBandThread,
      onMessage: (said) => this.#take(said),
      onEnd: (why) => this.#ended(why),
    });
  }

  /** A thread that is ready and has nothing to do works; one that has something must have done it. */
  #take(said: FromBandThread): void {
    if (said.kind === 'answer') this.#waiting.shift()?.onAnswer(said.answer);
    else if (this.#waiting.length > 0) return;
    this.#backOff.reset();
    this.#onHealth(null);
  }

  #giveUpOnPoison(): void {
    const [atWork] = this.#waiting;
    if (atWork === undefined) return;
    atWork.ends += 1;
    if (atWork.ends < MOST_TRIES) return;
    this.#waiting.shift();
    atWork.onAnswer(null);
  }

  #ended(why: string): void {
    this.#thread = null;
    if (this.#isStopped) return;
    this.#giveUpOnPoison();
    this.#backOff.later(() => {
      this.#thread = this.#started();
      for (const { question } of this.#waiting) this.#thread.tell(question);
    });
    this.#onHealth(why);
  }
}

/** The session looks at the bands themselves before it takes them. */
function isFromBandThread(said: unknown): said is FromBandThread {
  if (!isRecord(said)) return false;
  const { kind, answer } = said;
  if (kind !== 'answer') return kind === 'ready';
  return answer === null || (isRecord(answer) && isRecord(answer['bands']));
}
