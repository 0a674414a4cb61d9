import type { Wall } from '../time/wall.js';
import type { Hook } from './hook.js';
import { printable } from '../../drivers/printable.js';

/** So many deliveries of a hook go on at once. */
export const MOST_AT_ONCE = 4;
/** So many wait; what comes on top is told as failed, for a hook that old helps nobody. */
export const MOST_WAITING = 32;

/** So much of what went wrong is told; a program or an address may have put anything into it. */
const MOST_TOLD = 400;

/** So long what runs may go on when all is to end. */
export const LONGEST_GOODBYE_MS = 1000;

/** What came of one delivery; `failed` says why it came to nothing. */
export interface HookOutcome {
  readonly hook: string;
  readonly alarm: string;
  readonly failed: string | null;
}

interface Delivery {
  readonly hook: Hook;
  readonly alarm: string;
  readonly text: string;
}

/** Delivers to a hook beside the watching, never in its way: bounded in number and in time. */
export class HookQueue {
  readonly #wall: Wall;
  readonly #tell: (outcome: HookOutcome) => void;
  readonly #running = new Map<Promise<void>, AbortController>();
  #waiting: Delivery[] = [];
  #isStopped = false;

  /** @param tell must not throw */
  constructor(wall: Wall, tell: (outcome: HookOutcome) => void) {
    this.#wall = wall;
    this.#tell = tell;
  }

  /** Returns at once; nothing is delivered any more after `stop`. */
  deliver(hook: Hook, alarm: string, text: string): void {
    if (this.#isStopped) return;
    if (this.#waiting.length >= MOST_WAITING) {
      const failed = `${MOST_WAITING} deliveries wait already; this one was left out`;
      return this.#tell({ hook: hook.name, alarm, failed });
    }
    this.#waiting.push({ hook, alarm, text });
    this.#startNext();
  }

  /** Lets what runs come to its end, or ends it after a moment; what waits is dropped. Never rejects. */
  async stop(): Promise<void> {
    this.#isStopped = true;
    this.#waiting = [];
    const cancel = this.#wall.after(LONGEST_GOODBYE_MS, () => {
      for (const ending of this.#running.values()) ending.abort();
    });
    await Promise.all(this.#running.keys());
    cancel();
  }

  #startNext(): void {
    if (this.#running.size >= MOST_AT_ONCE) return;
    const next = this.#waiting.shift();
    if (next === undefined) return;
    const ending = new AbortController();
    const running = this.#run(next, ending).finally(() => {
      this.#running.delete(running);
      this.#startNext();
    });
    this.#running.set(running, ending);
  }

  async #run({ hook, alarm, text }: Delivery, ending: AbortController): Promise<void> {
    const cancel = this.#wall.after(hook.timeoutMs, () => ending.abort());
    try {
      await hook.deliver(text, ending.signal);
      this.#tell({ hook: hook.name, alarm, failed: null });
    } catch (problem) {
      this.#tell({
        hook: hook.name,
        alarm,
        failed: printable(problem instanceof Error ? problem.message : String(problem), MOST_TOLD),
      });
    } finally {
      cancel();
    }
  }
}
