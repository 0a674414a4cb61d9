/** One kind of system call that fails; see `failing-system.mjs`. */
export interface Failing {
  readonly call: string;
  /** A part of the path. */
  readonly path: string;
  readonly code: string;
  /** So many calls go well before. */
  readonly after?: number;
}

/** What `node --import` loads before the program. */
export const FAILING_SYSTEM = new URL('failing-system.mjs', import.meta.url).href;
