import { basename } from 'node:path';
import { errorCode, type Disk } from './disk.js';
import { headerLine, lostLine, nextLine, sealLine } from './encode.js';
import { recordingFileName } from './file-name.js';
import { GrowingFile } from './growing-file.js';
import type { RecordingHeader, RecordingPart } from './header.js';

export interface PartedFileOptions {
  readonly disk: Disk;
  readonly folder: string;
  readonly name: string;
  readonly header: RecordingHeader;
  /** A file that has grown to this is followed by another. */
  readonly partBytes: number;
}

/** POSIX's words for no room on the disk, and none left of one's share. */
const FULL = ['ENOSPC', 'EDQUOT'];

/**
 * The file of a session, or the chain of files of a long one: each ends by naming the next, sealed. After a full disk
 * the session goes on in a new file, so that what was written before is closed as soon as there is room.
 */
export class PartedFile {
  readonly #options: PartedFileOptions;
  /** Every channel line so far: each file must be readable by itself. */
  #declared = '';
  #file: GrowingFile;
  #next: GrowingFile | null = null;
  #nextIsNamed = false;
  #number = 1;
  /** The disk was full in the middle of a block: what follows that block goes into a new file. */
  #wasFull = false;
  #isLast = false;

  constructor(options: PartedFileOptions) {
    this.#options = options;
    this.#file = this.#newFile(null);
  }

  /** The newest file's path; the folder's before there is a file. */
  get place(): string {
    return this.#file.place;
  }

  get path(): string | null {
    return this.#file.path;
  }

  /** How much of the newest file the disk has for sure. */
  get bytes(): number {
    return this.#file.bytes;
  }

  /**
   * Takes the next block of whole lines, only after a `commit` that resolved.
   * @param entries how many readings, ticks and other lines are in it
   * @param declared the channel lines in it
   */
  load(text: string, entries: number, declared: string): void {
    this.#declared += declared;
    this.#file.load(text, entries);
  }

  /** The same for the session's last block, which gets its seal. */
  loadLast(text: string, entries: number, declared: string): void {
    this.load(`${text}${sealLine(this.#file.sha256With(text))}\n`, entries + 1, declared);
    this.#isLast = true;
  }

  /** Brings everything loaded to the disk. Rejects with the system's error; then call it again later. */
  async commit(): Promise<void> {
    try {
      await this.#file.commit();
    } catch (error) {
      this.#wasFull ||= this.#file.bytes > 0 && FULL.includes(errorCode(error));
      throw error;
    }
    const isDue = this.#next !== null || this.#wasFull || this.#file.bytes >= this.#options.partBytes;
    if (isDue && !this.#isLast) await this.#goOn();
  }

  async close(): Promise<void> {
    await this.#file.close();
    await this.#next?.close();
  }

  /** Takes the file of a session that never began away; rejects with the system's error. */
  async withdraw(): Promise<void> {
    await this.#file.withdraw();
  }

  /** First the new file, so that a name always leads somewhere. Nothing is loaded before this has gone through. */
  async #goOn(): Promise<void> {
    this.#next ??= this.#newFile({
      number: this.#number + 1,
      after: basename(this.#file.place),
    });
    await this.#next.commit();
    if (!this.#nextIsNamed) {
      const text = `${nextLine(basename(this.#next.place))}\n`;
      this.#file.load(`${text}${sealLine(this.#file.sha256With(text))}\n`, 2);
      this.#nextIsNamed = true;
    }
    await this.#file.commit();
    await this.#file.close();
    this.#file = this.#next;
    this.#next = null;
    this.#nextIsNamed = false;
    this.#wasFull = false;
    this.#number += 1;
  }

  #newFile(part: RecordingPart | null): GrowingFile {
    const { disk, folder, name, header } = this.#options;
    const first = `${headerLine(part === null ? header : { ...header, part })}\n`;
    const declaredBefore = this.#declared;
    return new GrowingFile({
      disk,
      folder,
      fileName: (attempt) => recordingFileName(header.startedAt, name, attempt, part?.number),
      preamble: (entriesBefore) =>
        entriesBefore === 0
          ? `${first}${declaredBefore}`
          : `${first}${this.#declared}${lostLine(entriesBefore)}\n`,
    });
  }
}
