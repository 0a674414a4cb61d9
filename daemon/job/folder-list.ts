import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { designName } from '../design-name.js';
import { isFileIn } from '../record/file-in-folder.js';
import type { RecordingHeader } from '../record/header.js';
import { NotARecording } from '../record/parse.js';
import { readPieces } from '../record/reader.js';
import { isRecordingName } from '../serve/job-ask.js';
import type { BegunView, JobListView, ListedView } from '../serve/job-views.js';
import { FileMemory } from './file-memory.js';

const ENDING = /\.ndjson(\.gz)?$/;
/** More than a job has. */
const MOST_LISTED = 500;

type FirstLine = { readonly header: RecordingHeader; readonly begun: BegunView } | { readonly why: string };

/** Lists a folder, newest first, by the first line of each file; remembers those for the next time. */
export class FolderList {
  readonly #folder: string;
  readonly #firstLines = new FileMemory<FirstLine>(2 * MOST_LISTED);

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** @param running the file to which the running session's recording began to be written */
  async list(running: string | null): Promise<JobListView> {
    const names = (await readdir(this.#folder).catch(() => [])).filter((name) => ENDING.test(name)).sort();
    const recordings: ListedView[] = [];
    for (const name of names.slice(-MOST_LISTED)) {
      const listed = await this.#one(name, name === running);
      if (listed !== null) recordings.push(listed);
    }
    const leftOut = Math.max(0, names.length - MOST_LISTED);
    return { folder: this.#folder, recordings: recordings.sort(newestFirst), leftOut };
  }

  /** Null for a later file of a session: it counts with its first. */
  async #one(file: string, running: boolean): Promise<ListedView | null> {
    const path = join(this.#folder, file);
    const bytes = await lstat(path).then(
      ({ size }) => size,
      () => null,
    );
    if (bytes === null) return null;
    const refusal = await whyNotServed(this.#folder, file);
    if (refusal !== null) return { file, bytes, running, begun: null, why: refusal };
    const first = await this.#firstLines.of(path, () => firstLine(path));
    if ('why' in first) return { file, bytes, running, begun: null, why: first.why };
    if (first.header.part !== undefined) return null;
    return { file, bytes, running, begun: first.begun, why: '' };
  }
}

async function whyNotServed(folder: string, file: string): Promise<string | null> {
  if (!isRecordingName(file)) return 'Its name has signs that the page does not open; rename it.';
  if (await isFileIn(folder, join(folder, file))) return null;
  return 'It is a link that leads out of this folder, or no file; copy the recording itself here.';
}

async function firstLine(path: string): Promise<FirstLine> {
  try {
    for await (const { items } of readPieces(path)) {
      const item = items[0];
      if (item?.kind === 'header') return { header: item.header, begun: begunView(item.header) };
    }
    return { why: `${path}: there is no header in it.` };
  } catch (error) {
    if (error instanceof NotARecording) return { why: error.message };
    throw error;
  }
}

/** Which session a recording is of. */
export function begunView({ design, plan, startedAt }: RecordingHeader): BegunView {
  return { design: designName(design.text) ?? design.file, load: plan.prediction.load, startedAt };
}

/** Those that can't be opened come last. */
function newestFirst(a: ListedView, b: ListedView): number {
  const [first, second] = [startMs(a), startMs(b)];
  return second - first || (a.file < b.file ? 1 : -1);
}

function startMs({ begun }: ListedView): number {
  return begun === null ? 0 : Date.parse(begun.startedAt);
}
