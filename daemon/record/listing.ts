import { readdir, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { AlarmFacts, Priority } from '../watch/alarm.js';
import type { AlarmEffect } from '../watch/effects.js';
import type { RecordingHeader } from './header.js';
import { NotARecording, type PieceItem, type RecordingProblem } from './parse.js';
import { readPieces } from './reader.js';

const NAME = /\.ndjson(\.gz)?$/;
/** More files than a person keeps in one folder; the newest are listed. */
const MOST_FILES = 1000;

/** One recording of a folder, as far as its own lines say. */
export interface Listed {
  readonly file: string;
  /** Of all files of the session. */
  readonly bytes: number;
  readonly header: RecordingHeader;
  readonly lengthMs: number;
  /** Ids of the alarms that were raised, in order, each once. */
  readonly raised: readonly string[];
  /** The gravest of them as when it was worst; null without any. One that another explains doesn't count. */
  readonly worst: AlarmFacts | null;
  readonly problems: Readonly<Partial<Record<RecordingProblem, number>>>;
}

/** A file that has the name of a recording and isn't one. */
export interface NotListed {
  readonly file: string;
  readonly why: string;
}

/**
 * The recordings of a folder by name, read from front to back so that any change since they were closed is found.
 * The later files of a session count with its first.
 * @throws {NotARecording} when the folder can't be read.
 */
export async function* listRecordings(folder: string): AsyncGenerator<Listed | NotListed, void, void> {
  const names = await readdir(folder).catch(() => {
    throw new NotARecording(`${folder}: there is no such folder; name the one with the recordings.`);
  });
  for (const name of names
    .filter((one) => NAME.test(one))
    .sort()
    .slice(-MOST_FILES)) {
    const listed = await checkRecording(join(folder, name));
    if ('why' in listed || listed.header.part === undefined) yield listed;
  }
}

/** One recording, read from front to back. */
export async function checkRecording(path: string): Promise<Listed | NotListed> {
  const file = basename(path);
  const tally = new Tally();
  const paths = new Set<string>();
  try {
    for await (const piece of readPieces(path)) {
      paths.add(piece.path);
      for (const item of piece.items) tally.take(item);
    }
  } catch (error) {
    if (!(error instanceof NotARecording)) throw error;
    return { file, why: error.message };
  }
  const sizes = await Promise.all([...paths].map(async (one) => (await stat(one)).size));
  return { file, bytes: sizes.reduce((sum, size) => sum + size, 0), ...tally.result() };
}

const RANK: Readonly<Record<Priority, number>> = { high: 0, medium: 2, low: 4 };

/** By priority; of one priority what is beyond a limit comes before what may get there. */
function rankOf({ priority, cause }: AlarmFacts): number {
  return RANK[priority] + (cause.kind === 'over-limit' ? 0 : 1);
}

class Tally {
  #header: RecordingHeader | null = null;
  #lengthMs = 0;
  #worst: AlarmFacts | null = null;
  readonly #raised = new Set<string>();
  readonly #problems: Partial<Record<RecordingProblem, number>> = {};

  take(item: PieceItem): void {
    if (item.kind === 'header') this.#header = item.header;
    if (item.kind === 'event') this.#lengthMs = item.event.atMs;
    if (item.kind === 'events') this.#lengthMs = item.events.at(-1)?.atMs ?? this.#lengthMs;
    if (item.kind === 'end') this.#lengthMs = Math.max(this.#lengthMs, item.atMs);
    if (item.kind === 'effect' && item.effect.kind === 'alarm') this.#effect(item.effect);
    if (item.kind === 'problem') this.#problems[item.problem] = (this.#problems[item.problem] ?? 0) + 1;
  }

  result() {
    // The reader gives a header first or throws.
    const header = this.#header as RecordingHeader;
    const raised = [...this.#raised];
    return { header, lengthMs: this.#lengthMs, raised, worst: this.#worst, problems: this.#problems };
  }

  #effect({ change, alarm }: AlarmEffect): void {
    if (change === 'raised') this.#raised.add(alarm.id);
    if ((change !== 'raised' && change !== 'worse') || alarm.suppressedBy.length > 0) return;
    const isGraver = this.#worst === null || rankOf(alarm) < rankOf(this.#worst);
    if (isGraver || alarm.id === this.#worst?.id) this.#worst = alarm;
  }
}
