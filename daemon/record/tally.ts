import type { AlarmFacts, Priority } from '../watch/alarm.js';
import type { AlarmEffect } from '../watch/effects.js';
import type { RecordingHeader } from './header.js';
import type { PieceItem, RecordingProblem } from './parse.js';

/** What came out of a session. */
export interface SessionTally {
  readonly lengthMs: number;
  /** Ids of the alarms that were raised, in order, each once. */
  readonly raised: readonly string[];
  /** The gravest of them as when it was worst; null without any. One that another explains doesn't count. */
  readonly worst: AlarmFacts | null;
  /** How often each was found. */
  readonly problems: Readonly<Partial<Record<RecordingProblem, number>>>;
}

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 2, low: 4 };

/** By priority; of one priority what is beyond a limit comes before what may get there. */
function rankOf({ priority, cause }: AlarmFacts): number {
  return RANK[priority] + (cause.kind === 'over-limit' ? 0 : 1);
}

/** Counts while a recording goes by. */
export class Tally {
  /** Null before the first line. */
  header: RecordingHeader | null = null;
  #lengthMs = 0;
  #worst: AlarmFacts | null = null;
  readonly #raised = new Set<string>();
  readonly #problems: Partial<Record<RecordingProblem, number>> = {};

  take(item: PieceItem): void {
    if (item.kind === 'header') this.header = item.header;
    if (item.kind === 'event') this.#lengthMs = item.event.atMs;
    if (item.kind === 'events') this.#lengthMs = item.events.at(-1)?.atMs ?? this.#lengthMs;
    if (item.kind === 'end') this.#lengthMs = Math.max(this.#lengthMs, item.atMs);
    if (item.kind === 'effect' && item.effect.kind === 'alarm') this.#effect(item.effect);
    if (item.kind === 'problem') this.#problems[item.problem] = (this.#problems[item.problem] ?? 0) + 1;
  }

  result(): SessionTally {
    const [lengthMs, worst, problems] = [this.#lengthMs, this.#worst, this.#problems];
    return { lengthMs, raised: [...this.#raised], worst, problems };
  }

  #effect({ change, alarm }: AlarmEffect): void {
    if (change === 'raised') this.#raised.add(alarm.id);
    if ((change !== 'raised' && change !== 'worse') || alarm.suppressedBy.length > 0) return;
    const isGraver = this.#worst === null || rankOf(alarm) < rankOf(this.#worst);
    if (isGraver || alarm.id === this.#worst?.id) this.#worst = alarm;
  }
}
