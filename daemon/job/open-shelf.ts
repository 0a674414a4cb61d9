import { performance } from 'node:perf_hooks';
import { fileKey } from './file-memory.js';
import { openRecordingToLook, type Opened } from './opened.js';

/** Two pages, or one that goes back and forth; each takes some ten megabytes when it is long. */
const MOST_OPEN = 2;
/** A recording that grows is opened anew at most so often. */
const STALE_AFTER_MS = 15_000;

interface Entry {
  readonly path: string;
  readonly key: string;
  readonly openedMs: number;
  readonly opened: Promise<Opened>;
}

/** The recordings that are open, the last used last. */
export class OpenShelf {
  readonly #software: string;
  #entries: readonly Entry[] = [];

  constructor(software: string) {
    this.#software = software;
  }

  /** @throws {NotARecording} when the file can't be used. */
  async open(path: string): Promise<Opened> {
    const key = await fileKey(path);
    const known = this.#entries.find((entry) => entry.path === path);
    const nowMs = performance.now();
    const isCurrent = known !== undefined && (known.key === key || nowMs - known.openedMs < STALE_AFTER_MS);
    const entry = isCurrent
      ? known
      : { path, key, openedMs: nowMs, opened: openRecordingToLook(path, this.#software) };
    this.#put(entry);
    try {
      return await entry.opened;
    } catch (error) {
      this.#entries = this.#entries.filter((one) => one !== entry);
      throw error;
    }
  }

  #put(entry: Entry): void {
    const others = this.#entries.filter((one) => one !== entry);
    const kept = others.filter(({ path }) => path !== entry.path).slice(-(MOST_OPEN - 1));
    for (const gone of others) {
      if (!kept.includes(gone)) void gone.opened.then((one) => one.close()).catch(() => undefined);
    }
    this.#entries = [...kept, entry];
  }
}
