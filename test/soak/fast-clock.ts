import type { Clock } from '../../drivers/clock.js';

interface Timer {
  readonly dueMs: number;
  /** Of two that are due at once the older one runs first. */
  readonly number: number;
  action: (() => void) | null;
}

/** A session clock without a wall: it goes from timer to timer as fast as the machine can. */
export class FastClock implements Clock {
  #nowMs = 0;
  #number = 0;
  #waiting = 0;
  /** A binary heap, the next one to run at its root. Cancelled ones stay until they get there. */
  readonly #heap: Timer[] = [];

  nowMs(): number {
    return this.#nowMs;
  }

  /** Timers that still wait. */
  get waiting(): number {
    return this.#waiting;
  }

  after(delayMs: number, action: () => void): () => void {
    const timer: Timer = {
      dueMs: this.#nowMs + Math.max(0, delayMs),
      number: (this.#number += 1),
      action,
    };
    this.#waiting += 1;
    this.#heap.push(timer);
    this.#rise(this.#heap.length - 1);
    return () => {
      if (timer.action === null) return;
      timer.action = null;
      this.#waiting -= 1;
    };
  }

  /** Runs every timer that falls due within `ms`, each at its own time. */
  advance(ms: number): void {
    const endMs = this.#nowMs + ms;
    for (let next = this.#heap[0]; next !== undefined && next.dueMs <= endMs; next = this.#heap[0]) {
      this.#takeFirst();
      const { action } = next;
      if (action === null) continue;
      next.action = null;
      this.#waiting -= 1;
      this.#nowMs = Math.max(this.#nowMs, next.dueMs);
      action();
    }
    this.#nowMs = endMs;
  }

  /** Time passes and nothing runs, as in a computer that sleeps. What was due then runs late. */
  jump(ms: number): void {
    this.#nowMs += ms;
  }

  #takeFirst(): void {
    const last = this.#heap.pop();
    if (last === undefined || this.#heap.length === 0) return;
    this.#heap[0] = last;
    this.#sink();
  }

  #rise(from: number): void {
    let at = from;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (!this.#swapIfBefore(at, above)) return;
      at = above;
    }
  }

  #sink(): void {
    let at = 0;
    for (;;) {
      const [left, right] = [2 * at + 1, 2 * at + 2];
      const below = this.#isBefore(right, left) ? right : left;
      if (!this.#swapIfBefore(below, at)) return;
      at = below;
    }
  }

  #swapIfBefore(low: number, high: number): boolean {
    const [a, b] = [this.#heap[low], this.#heap[high]];
    if (a === undefined || b === undefined || !this.#isBefore(low, high)) return false;
    this.#heap[low] = b;
    this.#heap[high] = a;
    return true;
  }

  #isBefore(one: number, other: number): boolean {
    const [a, b] = [this.#heap[one], this.#heap[other]];
    if (a === undefined || b === undefined) return a !== undefined;
    return a.dueMs < b.dueMs || (a.dueMs === b.dueMs && a.number < b.number);
  }
}
