import type { Clock } from '../drivers/clock.js';

/** A clock that stands still until a test moves it. */
export interface ManualClock extends Clock {
  /** Moves time on by `ms`, running due timers in order of their time, each at its own time. */
  advance(ms: number): void;
}

interface Timer {
  readonly dueMs: number;
  readonly action: () => void;
}

/** Starts at 0 ms. A timer set from within a timer runs in the same `advance` if it falls due there. */
export function manualClock(): ManualClock {
  let nowMs = 0;
  let timers: readonly Timer[] = [];

  function nextDueBy(endMs: number): Timer | undefined {
    let next: Timer | undefined;
    for (const timer of timers) {
      if (timer.dueMs <= endMs && (next === undefined || timer.dueMs < next.dueMs)) next = timer;
    }
    return next;
  }

  return {
    nowMs: () => nowMs,
    after(delayMs, action) {
      const timer = { dueMs: nowMs + Math.max(0, delayMs), action };
      timers = [...timers, timer];
      return () => {
        timers = timers.filter((other) => other !== timer);
      };
    },
    advance(ms) {
      const endMs = nowMs + ms;
      for (let timer = nextDueBy(endMs); timer !== undefined; timer = nextDueBy(endMs)) {
        const due = timer;
        timers = timers.filter((other) => other !== due);
        nowMs = due.dueMs;
        due.action();
      }
      nowMs = endMs;
    },
  };
}
