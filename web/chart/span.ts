/** A stretch of session time. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** What a person wants to see. */
export interface Wish {
  /** How much of the past; Infinity: the whole session. */
  readonly lengthMs: number;
  /** Where it ends; null: it follows the newest reading. */
  readonly endMs: number | null;
}

/** What there is to see. */
export interface Extent {
  readonly nowMs: number;
  /** Whether anything shown is forecast, so that some of the future is shown too. */
  readonly hasForecast: boolean;
}

export const SHORTEST_MS = 2000;
const SHARE_AHEAD = 0.25;
const LONGEST_AHEAD_MS = 10 * 60_000;

/** The stretch that is shown for a wish. */
export function spanOf({ lengthMs, endMs }: Wish, extent: Extent): Span {
  const { nowMs } = extent;
  if (endMs !== null) return { fromMs: endMs - lengthMs, toMs: endMs };
  const length = Math.min(lengthMs, Math.max(nowMs, SHORTEST_MS));
  const fromMs = Number.isFinite(lengthMs) ? nowMs - lengthMs : 0;
  return { fromMs, toMs: Math.max(nowMs, SHORTEST_MS) + aheadMs(length, extent) };
}

/** Closer (`factor` under 1) or wider around a moment, which stays where it is; following goes on. */
export function zoomed(wish: Wish, factor: number, aroundMs: number, extent: Extent): Wish {
  const { nowMs } = extent;
  const shown = spanOf(wish, extent);
  const longest = Math.max(nowMs, 60_000);
  if (wish.endMs === null) {
    const lengthMs = factor * Math.min(wish.lengthMs, longest);
    return { endMs: null, lengthMs: lengthMs >= longest ? Infinity : Math.max(SHORTEST_MS, lengthMs) };
  }
  const length = shown.toMs - shown.fromMs;
  const lengthMs = Math.min(longest, Math.max(SHORTEST_MS, factor * length));
  const endMs = aroundMs + (shown.toMs - aroundMs) * (lengthMs / length);
  return settle({ lengthMs, endMs }, nowMs);
}

/** Later, or with a negative time earlier. Where it reaches the newest reading it follows again. */
export function panned(wish: Wish, byMs: number, extent: Extent): Wish {
  const { fromMs, toMs } = spanOf(wish, extent);
  const endMs = Math.min(toMs, wish.endMs === null ? extent.nowMs : toMs) + byMs;
  const lengthMs = wish.endMs === null ? Math.min(extent.nowMs - fromMs, wish.lengthMs) : toMs - fromMs;
  return settle({ lengthMs: Math.max(SHORTEST_MS, lengthMs), endMs }, extent.nowMs);
}

function settle({ lengthMs, endMs }: { lengthMs: number; endMs: number }, nowMs: number): Wish {
  if (endMs >= nowMs) return { lengthMs, endMs: null };
  return { lengthMs, endMs: Math.max(endMs, Math.min(lengthMs, nowMs)) };
}

function aheadMs(lengthMs: number, { hasForecast }: Extent): number {
  return hasForecast ? Math.min(LONGEST_AHEAD_MS, SHARE_AHEAD * lengthMs) : 0;
}
