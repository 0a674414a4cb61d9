/** One kind of system call that fails; see `failing-system.mjs`. */
export interface Failing {
  readonly call: string;
  /** A part of the path; of a program's arguments; left out where there is none. */
  readonly path?: string;
  /** What the system says. */
  readonly code?: string;
  /** What it gives in place of failing. */
  readonly answer?: unknown;
  /** So many calls go well before. */
  readonly after?: number;
}

/** What `node --import` loads before the program. */
export const FAILING_SYSTEM = new URL('failing-system.mjs', import.meta.url).href;
