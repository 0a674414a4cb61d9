import type { Clock } from '../clock.js';

/**
 * A session clock that runs `speed` times as fast as wall time: at 20, a timer of 1000 ms is due after 50 ms.
 * `wallMs` is the monotonic wall clock, replaceable in tests. Timers are no finer than about 1 ms of wall time.
 * @throws RangeError when `speed` isn't a positive finite number.
 */
export function scaledClock(speed: number, wallMs: () => number = () => performance.now()): Clock {
  if (!Number.isFinite(speed) || speed <= 0) {
    throw new RangeError(`clock speed: found ${speed}; a positive number is allowed, such as 1 or 20`);
  }
  const startWallMs = wallMs();
  return {
    nowMs: () => (wallMs() - startWallMs) * speed,
    after(delayMs, action) {
      const timer = setTimeout(action, Math.max(0, delayMs) / speed);
      return () => clearTimeout(timer);
    },
  };
}
