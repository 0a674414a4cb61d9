import { Expectations } from '../../daemon/expectations.js';
import { SupplyError } from '../../daemon/predict/engine/supply-error.js';
import type { ExpectedBands } from '../../daemon/expected-bands.js';
import type { BandSource } from '../../daemon/band-source.js';
import type { AlarmEffect } from '../../daemon/watch/effects.js';
import type { WatchEvent } from '../../daemon/watch/events.js';
import type { WatchPlan } from '../../daemon/watch/plan.js';
import { beginWatch, watch, type WatchState } from '../../daemon/watch/watch.js';

/** A person looks up from the circuit, reads an alarm and acknowledges it after so long (common practice). */
const ACKNOWLEDGES_AFTER_MS = 20_000;

/** The core with what a live session has around it: bands that follow the load and what was measured, and a person. */
export class LiveCore {
  readonly alarms: AlarmEffect[] = [];
  readonly #waiting: WatchEvent[] = [];
  readonly #expectations: Expectations;
  #state: WatchState;
  #isStepping = false;

  constructor(plan: WatchPlan, bands: ExpectedBands) {
    this.#state = beginWatch(plan);
    this.#expectations = new Expectations(plan, bandsAtOnce(bands), (event) =>
      this.take({ ...event, atMs: this.#state.nowMs }),
    );
  }

  get state(): WatchState {
    return this.#state;
  }

  /** One event at a time, as a session does: what follows from it waits its turn. */
  take(event: WatchEvent): void {
    this.#waiting.push(event);
    if (this.#isStepping) return;
    this.#isStepping = true;
    for (let next = this.#waiting.shift(); next !== undefined; next = this.#waiting.shift()) {
      const { state, effects } = watch(this.#state, next);
      this.#state = state;
      for (const effect of effects) if (effect.kind === 'alarm') this.alarms.push(effect);
      this.#expectations.onStep(next, state, effects);
    }
    this.#isStepping = false;
  }

  tick(atMs: number): void {
    this.take({ kind: 'tick', atMs });
    for (const { id, acknowledged, raisedAtMs } of this.#state.alarms) {
      if (!acknowledged && atMs - raisedAtMs >= ACKNOWLEDGES_AFTER_MS)
        this.take({ kind: 'acknowledge', atMs, alarm: id });
    }
  }
}

/** In the caller's thread, so that the same seed gives the same session. */
function bandsAtOnce(bands: ExpectedBands): BandSource {
  return {
    ask(question, onAnswer) {
      try {
        onAnswer(bands.answer(question));
      } catch (problem) {
        if (!(problem instanceof SupplyError)) throw problem;
        onAnswer(null);
      }
    },
    onHealth: () => undefined,
    stop: () => Promise.resolve(),
  };
}
