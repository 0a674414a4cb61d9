import type { PointView } from '../../daemon/serve/messages.js';

/** Where a temperature may be at one moment, 90 %, degrees C. */
export interface FanSlice {
  readonly low: number;
  readonly typical: number;
  readonly high: number;
}

/** The future of a temperature from its newest reading on. */
export interface Fan {
  readonly fromMs: number;
  at(atMs: number): FanSlice;
}

/** The forecast of a test point; null for one without. */
export function fanOf({ value, atMs, settles, settlesWithin, stale }: PointView): Fan | null {
  if (value === null || atMs === null || stale || settles === undefined || settlesWithin === undefined) {
    return null;
  }
  return {
    fromMs: atMs,
    at(laterMs) {
      const seconds = Math.max(0, laterMs - atMs) / 1000;
      const edges = [settles.low, settles.high].flatMap((end) =>
        [settlesWithin.low, settlesWithin.high].map((tau) => warmed(value, end, seconds, tau)),
      );
      return {
        low: Math.min(...edges),
        typical: warmed(value, settles.typical, seconds, settlesWithin.typical),
        high: Math.max(...edges),
      };
    },
  };
}

/** One lumped heat capacity behind one resistance (Incropera, Fundamentals of Heat and Mass Transfer, 5.1). */
function warmed(from: number, end: number, seconds: number, tau: number): number {
  return end + (from - end) * Math.exp(-seconds / Math.max(tau, 1e-3));
}
