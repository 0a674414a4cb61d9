import type { Clock } from '../../drivers/clock.js';
import type { Judgement } from '../watch/suspects/judgement.js';
import type { SuspectThread, SuspectThreadEvents } from './suspect-thread.js';
import type { SuspectQuestion } from './weigher.js';

/** A thread that failed is tried again after this, twice as long each time. */
const FIRST_RETRY_MS = 5000;
const LONGEST_RETRY_MS = 300_000;
/** One that has not answered after this hangs; one that was stopped for it gets twice as long. */
const FIRST_PATIENCE_MS = 1_800_000;

export interface PatientThreadSetup {
  readonly start: (events: SuspectThreadEvents) => SuspectThread;
  readonly clock: Clock;
  readonly onJudged: (judgement: Judgement) => void;
  /** Told why the thread is started anew. */
  readonly onTrouble: (why: string) => void;
}

/** Has one question after the other answered, however often its thread dies or hangs on the way. Nothing waits for it. */
export class PatientThread {
  readonly #setup: PatientThreadSetup;
  #thread: SuspectThread | null = null;
  #question: SuspectQuestion | null = null;
  #retryMs = FIRST_RETRY_MS;
  #patienceMs = FIRST_PATIENCE_MS;
  #cancelTimer: () => void = () => undefined;

  constructor(setup: PatientThreadSetup) {
    this.#setup = setup;
  }

  /** To be called again only once this is answered. */
  weigh(question: SuspectQuestion): void {
    this.#question = question;
    this.#ask();
  }

  stop(): void {
    this.#question = null;
    this.#endThread();
  }

  #ask(): void {
    const question = this.#question;
    if (question === null) return;
    this.#thread ??= this.#startThread();
    this.#cancelTimer = this.#setup.clock.after(this.#patienceMs, () => {
      this.#patienceMs *= 2;
      this.#fail('it gives no answer');
    });
    this.#thread.weigh(question);
  }

  #startThread(): SuspectThread {
    return this.#setup.start({
      onJudged: (judgement) => this.#answer(judgement),
      onFailed: (why) => this.#fail(why),
    });
  }

  #answer(judgement: Judgement): void {
    this.#cancelTimer();
    this.#question = null;
    this.#retryMs = FIRST_RETRY_MS;
    this.#setup.onJudged(judgement);
  }

  #fail(why: string): void {
    this.#endThread();
    this.#cancelTimer = this.#setup.clock.after(this.#retryMs, () => this.#ask());
    this.#retryMs = Math.min(LONGEST_RETRY_MS, 2 * this.#retryMs);
    this.#setup.onTrouble(why);
  }

  #endThread(): void {
    this.#cancelTimer();
    this.#thread?.stop();
    this.#thread = null;
  }
}
