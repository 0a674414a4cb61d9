import { BackOff } from './back-off.js';
import type { Wall } from './time/wall.js';
import type { Effect } from './watch/effects.js';
import type { Service, WatchEvent } from './watch/events.js';
import type { WatchState } from './watch/state.js';

/** Sees every event with the state and effects that follow from it, in order. */
export type StepListener = (event: WatchEvent, state: WatchState, effects: readonly Effect[]) => void;

interface Entry {
  readonly listener: StepListener;
  readonly service: Service;
  readonly backOff: BackOff;
  health: 'works' | 'rests' | 'is-tried';
}

/** Those who hear of every step. One that throws rests for a while and is tried again; the others go on. */
export class StepListeners {
  readonly #entries: Entry[] = [];
  readonly #wall: Pick<Wall, 'after'>;
  readonly #tell: (service: Service, why: string | null) => void;

  /** @param tell is called with why a service rests, and with null when it works again; must not throw */
  constructor(wall: Pick<Wall, 'after'>, tell: (service: Service, why: string | null) => void) {
    this.#wall = wall;
    this.#tell = tell;
  }

  add(listener: StepListener, service: Service): void {
    this.#entries.push({ listener, service, backOff: new BackOff(this.#wall), health: 'works' });
  }

  readonly call: StepListener = (event, state, effects) => {
    for (const entry of this.#entries) {
      if (entry.health === 'rests') continue;
      try {
        entry.listener(event, state, effects);
        if (entry.health === 'is-tried') this.#isWell(entry);
      } catch (problem) {
        this.#rest(entry, problem instanceof Error ? problem.message : String(problem));
      }
    }
  };

  stop(): void {
    for (const { backOff } of this.#entries) backOff.stop();
  }

  #isWell(entry: Entry): void {
    entry.health = 'works';
    entry.backOff.reset();
    this.#tell(entry.service, null);
  }

  #rest(entry: Entry, why: string): void {
    entry.health = 'rests';
    entry.backOff.later(() => {
      entry.health = 'is-tried';
    });
    this.#tell(entry.service, why);
  }
}
