import type { Priority } from '../watch/alarm.js';

/** Somebody who wants to be told of an alarm: a program, or an address. */
export interface Hook {
  /** What it is called where its failures are told: `run siren.sh`, `post http://127.0.0.1:8080/alarm`. */
  readonly name: string;
  /** For alarms of this priority and every higher one. */
  readonly priority: Priority;
  readonly timeoutMs: number;
  /**
   * Delivers one alarm, as JSON text. Resolves when it was taken; rejects with what went wrong, in words, and at once
   * when `signal` says that it takes too long. Leaves nothing running behind.
   */
  deliver(text: string, signal: AbortSignal): Promise<void>;
}

/** What a hook is given, as JSON. */
export interface HookAlarm {
  readonly alarm: string;
  readonly change: 'raised' | 'worse' | 'unsuppressed' | 'unshelved';
  readonly priority: Priority;
  readonly firstUp: boolean;
  /** Session time, ms, and the wall clock's, ISO 8601. */
  readonly atMs: number;
  readonly at: string;
  /** What the design calls itself. */
  readonly design: string;
  readonly sentence: string;
  readonly spoken: string;
  readonly cure: string;
  /** The numbers that raised it. */
  readonly cause: object;
}
