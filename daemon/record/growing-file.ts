import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { errorCode, type Disk, type OpenFile } from './disk.js';

const MOST_NAMES = 999;

export interface GrowingFileOptions {
  readonly disk: Disk;
  readonly folder: string;
  /** The file's name; `attempt` counts from 1 while names are taken. */
  readonly fileName: (attempt: number) => string;
  /** What a new file begins with; `entriesBefore`: how many readings, ticks and other lines went to a file that has vanished. */
  readonly preamble: (entriesBefore: number) => string;
}

/**
 * One append-only file and the newest block of it, which is kept in memory until the disk has it for sure. After any
 * error the file is opened anew and the block goes on where the file ends, so that nothing is torn or written twice.
 * A file that has vanished is begun anew. Not to be called again before the promise of the last call has settled.
 */
export class GrowingFile {
  readonly #options: GrowingFileOptions;
  #path: string | null = null;
  #file: OpenFile | null = null;
  /** What it begins with. */
  #head = Buffer.alloc(0);
  /** Bytes that the disk has for sure; the block begins there. */
  #syncedBytes = 0;
  #syncedEntries = 0;
  /** Of what the disk has for sure. */
  #hash = createHash('sha256');
  #lines: Buffer = Buffer.alloc(0);
  #entryCount = 0;
  /** The lines, behind the preamble when the file is new. */
  #block = this.#lines;
  #blockDone = 0;

  constructor(options: GrowingFileOptions) {
    this.#options = options;
  }

  /** The file's path; the folder's before there is a file. */
  get place(): string {
    return this.#path ?? this.#options.folder;
  }

  get path(): string | null {
    return this.#path;
  }

  /** How much of it the disk has for sure. */
  get bytes(): number {
    return this.#syncedBytes;
  }

  /** SHA-256 of what the disk has for sure and `text` behind it, in hexadecimal digits. */
  sha256With(text: string): string {
    return this.#hash.copy().update(text).digest('hex');
  }

  /** Whether the newest block isn't safe yet. */
  get pending(): boolean {
    return this.#block.length > 0;
  }

  /** Takes the next block of whole lines. Only when nothing is pending. */
  load(text: string, entries: number): void {
    this.#lines = Buffer.from(text);
    this.#entryCount = entries;
    this.#block = this.#lines;
    this.#blockDone = 0;
  }

  /** Brings the newest block to the disk. Rejects with the system's error; then call it again later. */
  async commit(): Promise<void> {
    try {
      this.#file ??= await this.#attach();
      if (this.pending) await this.#writeBlock(this.#file);
    } catch (error) {
      await this.#letGo();
      throw error;
    }
  }

  async close(): Promise<void> {
    await this.#letGo();
  }

  /** Closes the file and takes it away. Rejects with the system's error. */
  async withdraw(): Promise<void> {
    await this.#letGo();
    if (this.#path !== null) await this.#options.disk.remove(this.#path);
  }

  async #writeBlock(file: OpenFile): Promise<void> {
    while (this.#blockDone < this.#block.length) {
      this.#blockDone += await file.write(this.#block.subarray(this.#blockDone));
    }
    await file.sync();
    if (this.#path === null || !(await file.isAt(this.#path))) throw vanished();
    this.#hash.update(this.#block);
    this.#syncedBytes += this.#block.length;
    this.#syncedEntries += this.#entryCount;
    this.load('', 0);
  }

  async #attach(): Promise<OpenFile> {
    const { disk, folder } = this.#options;
    if (this.#path === null) {
      await disk.makeFolder(folder);
      return this.#begin();
    }
    try {
      if (!(await this.#isOurs(this.#path))) throw vanished();
      const file = await disk.reopen(this.#path);
      const size = await file.size().catch(async (error: unknown) => {
        await file.close();
        throw error;
      });
      this.#blockDone = Math.min(this.#block.length, Math.max(0, size - this.#syncedBytes));
      this.#syncedBytes = size - this.#blockDone;
      return file;
    } catch (error) {
      // The folder isn't made again: it may be where a disk was mounted that has been pulled out.
      if (errorCode(error) !== 'ENOENT' || !(await disk.exists(folder))) throw error;
      return this.#begin();
    }
  }

  /** Whether what is at the path now begins as this file does: another session may have taken the name meanwhile. */
  async #isOurs(path: string): Promise<boolean> {
    const found = await this.#options.disk.head(path, this.#head.length);
    const isWhole = this.#syncedBytes === 0 || found.length === this.#head.length;
    return isWhole && this.#head.subarray(0, found.length).equals(found);
  }

  async #begin(): Promise<OpenFile> {
    const { disk, folder, fileName, preamble } = this.#options;
    for (let attempt = 1; ; attempt += 1) {
      const path = join(folder, fileName(attempt));
      try {
        const file = await disk.create(path);
        const head = Buffer.from(preamble(this.#syncedEntries));
        this.#block = Buffer.concat([head, this.#lines]);
        this.#path = path;
        this.#head = head;
        this.#hash = createHash('sha256');
        this.#syncedBytes = 0;
        this.#blockDone = 0;
        return file;
      } catch (error) {
        if (errorCode(error) !== 'EEXIST' || attempt === MOST_NAMES) throw error;
      }
    }
  }

  /** An error while closing says nothing new: the file is opened anew in any case. */
  async #letGo(): Promise<void> {
    const file = this.#file;
    this.#file = null;
    await file?.close().catch(() => undefined);
  }
}

function vanished(): Error {
  return Object.assign(new Error('the file was deleted or moved'), { code: 'ENOENT' });
}
