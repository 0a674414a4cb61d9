import { readdir, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { AlarmEffect } from '../watch/effects.js';
import type { RecordingHeader } from './header.js';
import { NotARecording, type RecordingItem, type RecordingProblem } from './parse.js';
import { readRecording } from './reader.js';

const NAME = /\.ndjson(\.gz)?$/;
/** More files than a person keeps in one folder; the newest are listed. */
const MOST_FILES = 1000;

/** One recording of a folder, as far as its own lines say. */
export interface Listed {
  readonly file: string;
  readonly bytes: number;
  readonly header: RecordingHeader;
  readonly lengthMs: number;
  /** Ids of the alarms that were raised, in order, each once. */
  readonly raised: readonly string[];
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
    const listed = await listOne(join(folder, name));
    if ('why' in listed || listed.header.part === undefined) yield listed;
  }
}

async function listOne(path: string): Promise<Listed | NotListed> {
  const file = basename(path);
  const tally = new Tally();
  try {
    for await (const item of readRecording(path)) tally.take(item);
  } catch (error) {
    if (!(error instanceof NotARecording)) throw error;
    return { file, why: error.message };
  }
  const { size } = await stat(path);
  return { file, bytes: size, ...tally.result() };
}

class Tally {
  #header: RecordingHeader | null = null;
  #lengthMs = 0;
  readonly #raised = new Set<string>();
  readonly #problems: Partial<Record<RecordingProblem, number>> = {};

  take(item: RecordingItem): void {
    if (item.kind === 'header') this.#header = item.header;
    if (item.kind === 'event') this.#lengthMs = item.event.atMs;
    if (item.kind === 'end') this.#lengthMs = Math.max(this.#lengthMs, item.atMs);
    if (item.kind === 'effect' && item.effect.kind === 'alarm') this.#effect(item.effect);
    if (item.kind === 'problem') this.#problems[item.problem] = (this.#problems[item.problem] ?? 0) + 1;
  }

  result() {
    // The reader gives a header first or throws.
    const header = this.#header as RecordingHeader;
    return { header, lengthMs: this.#lengthMs, raised: [...this.#raised], problems: this.#problems };
  }

  #effect({ change, alarm }: AlarmEffect): void {
    if (change === 'raised') this.#raised.add(alarm.id);
  }
}
