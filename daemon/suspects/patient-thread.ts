import type { Clock } from '../../drivers/clock.js';
import { BackOff } from '../back-off.js';
import type { Judgement } from '../watch/suspects/judgement.js';
import type { SuspectThread, SuspectThreadEvents } from './suspect-thread.js';
import type { SuspectQuestion } from './weigher.js';

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
  readonly #backOff: BackOff;
  #patienceMs = FIRST_PATIENCE_MS;
  #cancelTimer: () => void = () => undefined;

  constructor(setup: PatientThreadSetup) {
    this.#setup = setup;
    this.#backOff = new BackOff(setup.clock);
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
    this.#backOff.reset();
    this.#setup.onJudged(judgement);
  }

  #fail(why: string): void {
    this.#endThread();
    this.#backOff.later(() => this.#ask());
    this.#setup.onTrouble(why);
  }

  #endThread(): void {
    this.#backOff.stop();
    this.#cancelTimer();
    this.#thread?.stop();
    this.#thread = null;
  }
}
