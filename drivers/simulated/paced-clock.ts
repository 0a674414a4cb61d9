import type { Clock } from '../clock.js';

/** Wall time between two steps. */
const STEP_MS = 5;
/** A step counts for no more wall time than this. */
const LONGEST_STEP_MS = 25;

interface Timer {
  readonly dueMs: number;
  readonly action: () => void;
}

/**
 * A session clock for everything in one process: `speed` times as fast as the wall while the machine keeps up. When
 * it doesn't, this time slows down instead of jumping, and timers still run in the order and at the time they were
 * due, so a busy machine is never mistaken for an instrument that fell silent.
 * @throws RangeError when `speed` isn't a positive finite number.
 */
export function pacedClock(speed: number): Clock {
  if (!Number.isFinite(speed) || speed <= 0) {
    throw new RangeError(`clock speed: found ${speed}; a positive number is allowed, such as 1 or 20`);
  }
  const timers = new Set<Timer>();
  let nowMs = 0;
  let lastWallMs = performance.now();

  function earliestBy(endMs: number): Timer | null {
    let earliest: Timer | null = null;
    for (const timer of timers) {
      if (timer.dueMs <= endMs && timer.dueMs < (earliest?.dueMs ?? Infinity)) earliest = timer;
    }
    return earliest;
  }

  function step(): void {
    const wallMs = performance.now();
    const endMs = nowMs + Math.min(wallMs - lastWallMs, LONGEST_STEP_MS) * speed;
    lastWallMs = wallMs;
    for (let timer = earliestBy(endMs); timer !== null; timer = earliestBy(endMs)) {
      timers.delete(timer);
      nowMs = Math.max(nowMs, timer.dueMs);
      timer.action();
    }
    nowMs = endMs;
  }

  setInterval(step, STEP_MS).unref();
  return {
    nowMs: () => nowMs,
    after(delayMs, action) {
      const timer = { dueMs: nowMs + Math.max(0, delayMs), action };
      timers.add(timer);
      return () => void timers.delete(timer);
    },
  };
}
