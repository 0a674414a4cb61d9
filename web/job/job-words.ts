import type { BegunView, ListedView, OutcomeView } from '../../daemon/serve/job-views.js';
import { formatDuration, keepUnits } from '../format.js';
import type { Standing } from '../point-standing.js';

/** `25 November 2026, 18:40`, by the clock of the place where it was recorded. */
export function whenWords({ startedAt }: BegunView): string {
  const local = new Date(`${startedAt.slice(0, 19)}Z`);
  const day = local.toLocaleDateString('en-GB', {
    timeZone: 'UTC',
    day: 'numeric',
    month: 'long',
    year: 'numeric',
  });
  return `${day}, ${startedAt.slice(11, 16)}`;
}

/** `88 kB`, `12.3 MB`. */
export function sizeWords(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)}\u00a0kB` : `${(bytes / 1e6).toFixed(1)}\u00a0MB`;
}

/** What came out, with the shape that goes with it. */
export interface OutcomeWords {
  readonly standing: Standing;
  readonly sentence: string;
}

export function outcomeWords({
  alarms,
  worst,
  running,
}: OutcomeView & { readonly running: boolean }): OutcomeWords {
  if (worst === null) {
    return { standing: running ? 'waiting' : 'inside', sentence: running ? 'No alarm so far.' : 'No alarm.' };
  }
  const count = alarms === 1 ? '1 alarm' : `${alarms} alarms, the gravest`;
  const standing = worst.priority === 'high' ? 'outside' : 'doubtful';
  return { standing, sentence: `${count}: ${keepUnits(worst.sentence)}` };
}

/** Length, size and whether it is as it was closed. */
export function factWords(listed: ListedView, outcome: OutcomeView | undefined): readonly string[] {
  if (outcome === undefined) return [sizeWords(listed.bytes)];
  return [formatDuration(outcome.lengthMs), sizeWords(outcome.bytes), outcome.state];
}
