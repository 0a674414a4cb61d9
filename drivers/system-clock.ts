import type { Clock } from './clock.js';

/** The clock of real links: starts at 0 ms when made, never goes back. */
export function systemClock(): Clock {
  const startMs = performance.now();
  return {
    nowMs: () => performance.now() - startMs,
    after(delayMs, action) {
      const timer = setTimeout(action, Math.max(0, delayMs));
      return () => clearTimeout(timer);
    },
  };
}
