import type { Wall } from '../time/wall.js';
import type { Hook } from './hook.js';

/** So many deliveries go on at once, over all hooks. */
export const MOST_AT_ONCE = 4;
/** So many wait; what comes on top is told as failed, for a hook that old helps nobody. */
export const MOST_WAITING = 32;

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

/** Delivers to hooks beside the watching, never in its way: bounded in number and in time. */
export class HookQueue {
  readonly #wall: Wall;
  readonly #tell: (outcome: HookOutcome) => void;
  readonly #running = new Set<Promise<void>>();
  #waiting: Delivery[] = [];

  /** @param tell must not throw */
  constructor(wall: Wall, tell: (outcome: HookOutcome) => void) {
    this.#wall = wall;
    this.#tell = tell;
  }

  /** Returns at once. */
  deliver(hook: Hook, alarm: string, text: string): void {
    if (this.#waiting.length >= MOST_WAITING) {
      const failed = `${MOST_WAITING} deliveries wait already; this one was left out`;
      return this.#tell({ hook: hook.name, alarm, failed });
    }
    this.#waiting.push({ hook, alarm, text });
    this.#startNext();
  }

  /** Lets what runs come to its end; what waits is dropped. Never rejects. */
  async stop(): Promise<void> {
    this.#waiting = [];
    await Promise.all(this.#running);
  }

  #startNext(): void {
    if (this.#running.size >= MOST_AT_ONCE) return;
    const next = this.#waiting.shift();
    if (next === undefined) return;
    const running = this.#run(next).finally(() => {
      this.#running.delete(running);
      this.#startNext();
    });
    this.#running.add(running);
  }

  async #run({ hook, alarm, text }: Delivery): Promise<void> {
    const ending = new AbortController();
    const cancel = this.#wall.after(hook.timeoutMs, () => ending.abort());
    try {
      await hook.deliver(text, ending.signal);
      this.#tell({ hook: hook.name, alarm, failed: null });
    } catch (problem) {
      this.#tell({
        hook: hook.name,
        alarm,
        failed: problem instanceof Error ? problem.message : String(problem),
      });
    } finally {
      cancel();
    }
  }
}
