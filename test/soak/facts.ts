import type { Effect } from '../../daemon/watch/effects.js';
import type { WatchEvent } from '../../daemon/watch/events.js';

/** What was told since the last `forget`, as short words: `lost meter`, `raised stale:meter.volts`, `fault meter`. */
export class Facts {
  readonly #told = new Set<string>();

  has(fact: string): boolean {
    return this.#told.has(fact);
  }

  /** Whether anything that was told begins so. */
  hasAny(beginning: string): boolean {
    for (const fact of this.#told) if (fact.startsWith(beginning)) return true;
    return false;
  }

  forget(): void {
    this.#told.clear();
  }

  take(event: WatchEvent, effects: readonly Effect[]): void {
    if (event.kind === 'instrument') {
      this.#told.add(`${event.state} ${event.instrument}`);
      if (event.path !== undefined) this.#told.add(`path ${event.instrument} ${event.path}`);
    }
    if (event.kind === 'reading' || event.kind === 'capture') this.#told.add(`heard ${event.instrument}`);
    if (event.kind === 'fault') this.#told.add(`fault ${event.instrument}`);
    if (event.kind === 'recorder') this.#told.add(event.writing ? 'writing' : 'not writing');
    if (event.kind === 'clock') this.#told.add('clock');
    for (const effect of effects) {
      if (effect.kind === 'alarm') this.#told.add(`${effect.change} ${effect.alarm.id}`);
    }
  }
}
