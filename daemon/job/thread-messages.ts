import type { JobAsk } from '../serve/job-ask.js';

/** What the thread that reads is started with. */
export interface JobThreadTask {
  readonly folder: string;
  readonly software: string;
}

/** To the thread. A body's blocks are asked for one by one, so that a slow browser holds up the reading. */
export type ToJobThread =
  | { readonly kind: 'ask'; readonly id: number; readonly ask: JobAsk; readonly running: string | null }
  | { readonly kind: 'more'; readonly id: number }
  | { readonly kind: 'stop'; readonly id: number };

/** From the thread: that it is there, then what it answers. */
export type FromJobThread = { readonly kind: 'ready' } | JobWord;

/** Of one ask. After `begin` each `more` is answered by `block`, `end` or `broken`. */
export type JobWord =
  | { readonly kind: 'begin'; readonly id: number; readonly styleSha256: string | null }
  | { readonly kind: 'refused'; readonly id: number; readonly status: 404 | 422 | 503; readonly why: string }
  | { readonly kind: 'block'; readonly id: number; readonly text: string }
  | { readonly kind: 'end'; readonly id: number }
  | { readonly kind: 'broken'; readonly id: number; readonly why: string };
