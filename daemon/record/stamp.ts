/**
 * The time that an event gets before the core sees it and before it is recorded: whole milliseconds since the
 * session's start, never before `previousMs`. Whole numbers keep lines short and read back as they were.
 */
export function stampMs(nowMs: number, previousMs = 0): number {
  return Math.max(previousMs, Math.round(nowMs));
}
