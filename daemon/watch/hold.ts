/** Something that has been so without a break: since when, and on how many readings. */
export interface Hold {
  readonly sinceMs: number;
  readonly readings: number;
}

/** How long a condition must hold before it counts (OPC 10000-9, B.1.5): both figures must be reached. */
export interface Delay {
  readonly readings: number;
  readonly ms: number;
}

/** The hold after one more reading on which the condition was so. */
export function longer(hold: Hold | null, atMs: number): Hold {
  if (hold === null) return { sinceMs: atMs, readings: 1 };
  return { sinceMs: hold.sinceMs, readings: hold.readings + 1 };
}

/** Whether the condition has held for the whole delay. */
export function hasHeld(hold: Hold, delay: Delay, atMs: number): boolean {
  return hold.readings >= delay.readings && atMs - hold.sinceMs >= delay.ms;
}
