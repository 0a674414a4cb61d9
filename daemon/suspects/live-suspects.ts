import type { Design, LoadState } from '../design/design.js';
import type { StepKind } from '../procedure/step.js';
import type { Effect } from '../watch/effects.js';
import type { ExpectEvent, SuspectsEvent, WatchEvent } from '../watch/events.js';
import type { Judgement } from '../watch/suspects/judgement.js';
import type { Settled } from '../watch/suspects/settled.js';
import type { Ways } from '../watch/suspects/next-point.js';
import { pointOf, type WatchState } from '../watch/state.js';
import type { Clock } from '../../drivers/clock.js';
import { SettledNow } from './settled-now.js';
import { PatientThread } from './patient-thread.js';
import type { StartSuspectThread } from './suspect-thread.js';

/** Less probable ones are noise. */
const LEAST_PROBABILITY = 0.02;
const MOST_SUSPECTS = 5;
/** A person names a load a little before or after they switch it; what stands on after that stands under it. */
const SWITCHES_WITHIN_MS = 10_000;

export interface LiveSuspectsSetup {
  readonly design: Design;
  readonly load: LoadState;
  readonly seed: number;
  /** How the bench measures each test point that it can; left out: the bench isn't known. */
  readonly ways?: Ways;
  readonly startThread: StartSuspectThread;
  readonly clock: Clock;
  readonly emit: (event: SuspectsEvent) => void;
  /** Told why nothing is weighed, and with null whenever something was. */
  readonly onHealth: (why: string | null) => void;
}

/** Has the settled readings of a running session weighed, each time that they say something new. */
export class LiveSuspects {
  readonly #setup: LiveSuspectsSetup;
  readonly #thread: PatientThread;
  /** The load that is said to be on, whatever was recognised. */
  #load: LoadState;
  /** Whether a person or a step said so, and nothing that was recognised speaks against it. */
  #isLoadSure = false;
  #step: string | null = null;
  /** Of the newest bands that stand. */
  #expectedLoad: LoadState;
  #settled = new SettledNow();
  /** What was known when another load was named. */
  #earlier: { readonly readings: readonly Settled[]; readonly atMs: number } | null = null;
  /** What is being weighed now; null: nothing. */
  #weighed: readonly string[] | null = null;
  /** What is being weighed belongs to another load or step. */
  #isOutdated = false;
  #hasNews = false;
  #isStopped = false;

  constructor(setup: LiveSuspectsSetup) {
    this.#setup = setup;
    this.#load = setup.load;
    this.#expectedLoad = setup.load;
    const { design, seed, ways, startThread, clock, onHealth } = setup;
    const task = { design, seed, ...(ways !== undefined && { ways }) };
    this.#thread = new PatientThread({
      start: (events) => startThread(task, events),
      clock,
      onJudged: (judgement) => this.#tell(judgement),
      onTrouble: (why) => onHealth(why),
    });
  }

  /** To be called after each event. */
  take(event: WatchEvent, state: WatchState, effects: readonly Effect[]): void {
    if (this.#isStopped) return;
    if (event.kind === 'load' && this.#step === null) this.#takeLoad(event.load, state);
    if (event.kind === 'expect') this.#takeExpect(event, state);
    if (event.kind === 'tick') this.#takeBack(state);
    if (!isWhole(state, this.#step)) return;
    for (const effect of effects) this.#hasNews = this.#settled.take(effect, state) || this.#hasNews;
    this.#weigh();
  }

  stop(): void {
    this.#isStopped = true;
    this.#thread.stop();
  }

  #takeLoad(load: LoadState, { nowMs }: WatchState): void {
    const readings = this.#settled.readings();
    const isSame = load === this.#load;
    this.#beginAnew(isSame ? readings : []);
    this.#earlier = isSame ? null : { readings, atMs: nowMs };
    this.#load = load;
    this.#isLoadSure = true;
  }

  #takeExpect({ load, step }: ExpectEvent, state: WatchState): void {
    const readings = this.#settled.readings();
    if (step !== this.#step) {
      const goesOn = load === this.#load && isWhole(state, this.#step) && isWhole(state, step);
      this.#beginAnew(goesOn ? readings : []);
      this.#load = load;
      this.#isLoadSure = step !== null;
    } else if (load !== this.#expectedLoad) {
      // The core forgets what was suspected when bands for another load come.
      this.#hasNews = readings.length > 0;
      this.#isOutdated = this.#weighed !== null;
      // Recognised by these very readings: as evidence that must not count twice.
      if (load !== this.#load) this.#isLoadSure = false;
    }
    this.#expectedLoad = load;
    this.#step = step;
  }

  /** What was read under one load says nothing about another. */
  #beginAnew(kept: readonly Settled[]): void {
    this.#settled = new SettledNow(kept);
    this.#earlier = null;
    this.#hasNews = kept.length > 0;
    this.#isOutdated = this.#weighed !== null;
  }

  /** What still stands some time after another load was named stands under that load. */
  #takeBack(state: WatchState): void {
    const earlier = this.#earlier;
    if (earlier === null || state.nowMs - earlier.atMs < SWITCHES_WITHIN_MS) return;
    this.#earlier = null;
    const still = earlier.readings.filter(({ point }) => {
      const settling = pointOf(state, point)?.settling;
      return settling?.kind === 'standing' && settling.sinceMs < earlier.atMs;
    });
    this.#hasNews = this.#settled.takeBack(still) || this.#hasNews;
  }

  #weigh(): void {
    if (!this.#hasNews || this.#weighed !== null) return;
    this.#hasNews = false;
    const settled = this.#settled.readings();
    this.#weighed = settled.map(({ point }) => point);
    this.#thread.weigh({ settled, load: this.#load, isLoadSure: this.#isLoadSure });
  }

  #tell(judgement: Judgement): void {
    const from = this.#weighed ?? [];
    this.#weighed = null;
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
  const { suspects, other, next, odd, parameters, otherLoad } = judgement;
  return {
    kind: 'suspects',
    atMs,
    from,
    suspects: suspects.filter(({ probability }) => probability >= LEAST_PROBABILITY).slice(0, MOST_SUSPECTS),
    other: other.probability,
    next,
    odd,
    parameters,
    otherLoad,
  };
}
