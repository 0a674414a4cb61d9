import { createHash, type Hash } from 'node:crypto';
import { effectLine } from '../../daemon/record/encode.js';
import { readPieces } from '../../daemon/record/reader.js';
import { isRecorded, type Effect, type RecordedEffect } from '../../daemon/watch/effects.js';
import type { WatchEvent } from '../../daemon/watch/events.js';

/** What a session holds, counted live or from its recording: the two must agree. */
export class SessionTally {
  readings = 0;
  events = 0;
  raised = 0;
  captures = 0;
  /** How many faults were counted, by instrument and code. */
  readonly faults: Record<string, Record<string, number>> = {};
  readonly #effects: Hash = createHash('sha256');

  event(event: WatchEvent): void {
    this.events += 1;
    if (event.kind === 'reading') this.readings += 1;
    if (event.kind === 'capture') this.captures += 1;
    if (event.kind === 'fault')
      this.faults[event.instrument] = { ...this.faults[event.instrument], [event.code]: event.count };
  }

  effect(effect: Effect): void {
    if (!isRecorded(effect)) return;
    if (effect.kind === 'alarm' && effect.change === 'raised') this.raised += 1;
    this.#effects.update(effectLine(effect));
  }

  /** Of everything that alarms and cut-offs did, in order. Call once. */
  digest(): string {
    return this.#effects.digest('hex');
  }
}

export interface RecordingTally {
  readonly tally: SessionTally;
  /** The closing line's count of what the disk never got; null: it wasn't closed. */
  readonly lost: number | null;
  readonly files: number;
  /** What the reader complains of. */
  readonly problems: readonly string[];
}

const MOST_PROBLEMS = 10;

/** Counts what is in a recording, all its files. */
export async function tallyOf(file: string): Promise<RecordingTally> {
  const tally = new SessionTally();
  const problems: string[] = [];
  const files = new Set<string>();
  let lost: number | null = null;
  for await (const { items, path } of readPieces(file)) {
    files.add(path);
    for (const item of items) {
      if (item.kind === 'event') tally.event(item.event);
      if (item.kind === 'events') for (const event of item.events) tally.event(event);
      if (item.kind === 'effect') tally.effect(item.effect satisfies RecordedEffect);
      if (item.kind === 'end') lost = item.summary.lost;
      if (item.kind === 'problem' && problems.length < MOST_PROBLEMS) problems.push(item.why);
    }
  }
  return { tally, lost, files: files.size, problems };
}
