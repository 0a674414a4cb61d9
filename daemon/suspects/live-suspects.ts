import { BackOff } from '../back-off.js';
import type { Design, LoadState } from '../design/design.js';
import type { StepKind } from '../procedure/step.js';
import type { Effect } from '../watch/effects.js';
import type { SuspectsEvent, WatchEvent } from '../watch/events.js';
import type { Judgement } from '../watch/suspects/judge.js';
import type { WatchState } from '../watch/state.js';
import type { Clock } from '../../drivers/clock.js';
import { SettledNow } from './settled-now.js';
import type { StartSuspectThread, SuspectThread } from './suspect-thread.js';

/** Less probable ones are noise. */
const LEAST_PROBABILITY = 0.02;
const MOST_SUSPECTS = 5;

export interface LiveSuspectsSetup {
  readonly design: Design;
  readonly load: LoadState;
  readonly seed: number;
  readonly startThread: StartSuspectThread;
  readonly clock: Clock;
  readonly emit: (event: SuspectsEvent) => void;
  /** Told why nothing is weighed, and with null whenever something was. */
  readonly onHealth: (why: string | null) => void;
}

/** Has the settled readings of a running session weighed, each time that they say something new. */
export class LiveSuspects {
  readonly #setup: LiveSuspectsSetup;
  #load: LoadState;
  #step: string | null = null;
  #settled = new SettledNow();
  #thread: SuspectThread | null = null;
  /** What is being weighed now; null: nothing. */
  #weighed: readonly string[] | null = null;
  /** What is being weighed belongs to another load or step. */
  #isOutdated = false;
  #hasNews = false;
  readonly #backOff: BackOff;
  #isStopped = false;

  constructor(setup: LiveSuspectsSetup) {
    this.#setup = setup;
    this.#load = setup.load;
    this.#backOff = new BackOff(setup.clock);
  }

  /** To be called after each event. */
  take(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void {
    if (this.#isStopped) return;
    if (event.kind === 'expect' && (event.load !== this.#load || event.step !== this.#step)) {
      this.#beginAnew(event.load, event.step);
    }
    if (!isWhole(state, this.#step)) return;
    let isNew = false;
    for (const effect of effects) isNew = this.#settled.take(effect, state) || isNew;
    if (!isNew) return;
    this.#hasNews = true;
    this.#weigh();
  }

  stop(): void {
    this.#isStopped = true;
    this.#backOff.stop();
    this.#thread?.stop();
    this.#thread = null;
  }

  /** Readings under one load say nothing about another. */
  #beginAnew(load: LoadState, step: string | null): void {
    this.#settled = new SettledNow();
    this.#step = step;
    this.#hasNews = false;
    this.#isOutdated = this.#weighed !== null;
    if (load === this.#load) return;
    this.#load = load;
    this.#backOff.stop();
    this.#thread?.stop();
    this.#thread = null;
    this.#weighed = null;
    this.#isOutdated = false;
  }

  #weigh(): void {
    if (!this.#hasNews || this.#weighed !== null) return;
    this.#hasNews = false;
    const settled = this.#settled.readings();
    this.#weighed = settled.map(({ point }) => point);
    this.#thread ??= this.#startThread();
    this.#thread.weigh(settled);
  }

  #startThread(): SuspectThread {
    const { design, seed, startThread } = this.#setup;
    return startThread(
      { design, load: this.#load, seed },
      { onJudged: (judgement) => this.#tell(judgement), onFailed: (why) => this.#tryLater(why) },
    );
  }

  /** Nothing waits for the suspects, so a thread that fails is only tried again. */
  #tryLater(why: string): void {
    this.#thread = null;
    this.#hasNews = true;
    this.#backOff.later(() => {
      this.#weighed = null;
      this.#weigh();
    });
    this.#setup.onHealth(why);
  }

  #tell(judgement: Judgement): void {
    const from = this.#weighed ?? [];
    this.#weighed = null;
    this.#backOff.reset();
    this.#setup.onHealth(null);
    if (!this.#isOutdated) this.#setup.emit(suspectsEvent(this.#setup.clock.nowMs(), from, judgement));
    this.#isOutdated = false;
    this.#weigh();
  }
}

/** The steps of a power-up in which the supply is as designed: the others lack parts of it, or have a lamp in series. */
const WHOLE: readonly StepKind[] = ['dummy-load', 'soak', 'real-load', 'lid', 'sign-off'];

/** The known faults are faults of the whole supply: while parts of it are missing nothing can be weighed. */
function isWhole({ plan }: WatchState, step: string | null): boolean {
  const kind = plan.procedure?.steps.find(({ id }) => id === step)?.kind;
  return step === null || (kind !== undefined && WHOLE.includes(kind));
}

/** What is worth telling of a judgement. */
export function suspectsEvent(atMs: number, from: readonly string[], judgement: Judgement): SuspectsEvent {
  const { suspects, other, next, odd, parameters } = judgement;
  return {
    kind: 'suspects',
    atMs,
    from,
    suspects: suspects.filter(({ probability }) => probability >= LEAST_PROBABILITY).slice(0, MOST_SUSPECTS),
    other: other.probability,
    next,
    odd,
    parameters,
  };
}
