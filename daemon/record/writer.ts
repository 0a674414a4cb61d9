import type { Effect } from '../watch/effects.js';
import type { ReadingEvent, WatchEvent } from '../watch/events.js';
import { systemDisk, type Disk } from './disk.js';
import { channelLine, effectLine, endLine, eventLine, headerLine, lostLine, readingLine } from './encode.js';
import { GrowingFile } from './growing-file.js';
import type { RecordingHeader } from './header.js';
import { LineQueue } from './line-queue.js';
import { troubleWords } from './trouble.js';
import { backgroundWall, type Wall } from './wall.js';

/** Under a second by as much as a slow disk may take, so that a crash loses at most the last second. */
const FLUSH_EVERY_MS = 750;
/** A write that takes longer than this is told: the disk hangs. */
const HANGING_MS = 5_000;
/** About a quarter of an hour at 500 readings a second. */
const QUEUE_BYTES = 32 * 1024 * 1024;

export interface RecordingOptions {
  /** Made if it is missing. */
  readonly folder: string;
  /** What the session is about; becomes part of the file's name. */
  readonly name: string;
  readonly header: RecordingHeader;
  /** Called once for each new reason why nothing is being written, but not while opening. Must not throw. */
  readonly onTrouble: (why: string) => void;
  /** Called when writing goes on after trouble. Must not throw. */
  readonly onWell: () => void;
  readonly disk?: Disk;
  readonly wall?: Wall;
  /** How much waits in memory while the disk doesn't take it; the oldest readings beyond that are dropped and counted. */
  readonly queueBytes?: number;
}

export interface Recording {
  /** The file; null before the disk took it. */
  readonly file: string | null;
  /** Why nothing is being written, for a person; null when all is well. */
  readonly trouble: string | null;
  /**
   * Records one event, stamped with `stampMs`. Returns at once; ignored after `close`.
   * @throws {RangeError} when a number in it isn't finite.
   */
  append(event: WatchEvent): void;
  /** Records an alarm's change, right after the event that caused it, and writes at once. Verdicts aren't recorded. */
  appendEffect(effect: Effect): void;
  /** Resolves when everything appended so far is on the disk (true), or can't be written now (false). Never rejects. */
  flush(): Promise<boolean>;
  /** Writes the closing line and closes the file. Resolves with whether everything is on the disk. */
  close(atMs: number): Promise<boolean>;
}

/**
 * Begins a recording, synced to the disk at least once a second. When the disk doesn't take it, the lines wait in
 * bounded memory and it is tried again every second. Trouble while opening is in `trouble`, so that whoever gets the
 * recording can record that too.
 * @throws {RangeError} when a number in the header isn't finite. Never rejects because of a disk.
 */
export async function openRecording(options: RecordingOptions): Promise<Recording> {
  const recording = new RecordingWriter(options);
  await recording.begin();
  return recording;
}

class RecordingWriter implements Recording {
  readonly #onTrouble: (why: string) => void;
  readonly #onWell: () => void;
  readonly #wall: Wall;
  readonly #queue: LineQueue;
  readonly #file: GrowingFile;
  readonly #indexOf = new Map<string, number>();
  /** Declarations that a new file must repeat when the first one has vanished. */
  #declared = '';
  #counts = { readings: 0, events: 0, alarms: 0 };
  #running: Promise<boolean> | null = null;
  #flushSoon = false;
  #stopTimer: () => void = () => undefined;
  /** Called when there is trouble, to end the waiting for the disk. */
  #stopOpening: (() => void) | null = null;
  #closed = false;
  #trouble: string | null = null;

  constructor(options: RecordingOptions) {
    const {
      folder,
      name,
      header,
      disk = systemDisk,
      wall = backgroundWall,
      queueBytes = QUEUE_BYTES,
    } = options;
    this.#onTrouble = options.onTrouble;
    this.#onWell = options.onWell;
    this.#wall = wall;
    this.#queue = new LineQueue(queueBytes);
    const first = `${headerLine(header)}\n`;
    const preamble = (linesBefore: number) =>
      linesBefore === 0 ? first : `${first}${this.#declared}${lostLine(linesBefore)}\n`;
    this.#file = new GrowingFile({ disk, folder, name, startedAt: header.startedAt, preamble });
  }

  get file(): string | null {
    return this.#file.path;
  }

  get trouble(): string | null {
    return this.#trouble;
  }

  append(event: WatchEvent): void {
    if (this.#closed) return;
    this.#counts.events += 1;
    if (event.kind !== 'reading') {
      this.#queue.push(eventLine(event), event.kind === 'tick' ? 'sample' : 'event');
      return;
    }
    this.#counts.readings += 1;
    this.#queue.push(readingLine(this.#declare(event), event), 'sample');
  }

  appendEffect(effect: Effect): void {
    if (this.#closed || effect.kind !== 'alarm') return;
    if (effect.change === 'raised') this.#counts.alarms += 1;
    this.#queue.push(effectLine(effect), 'event');
    if (this.#flushSoon) return;
    this.#flushSoon = true;
    queueMicrotask(() => {
      this.#flushSoon = false;
      void this.flush();
    });
  }

  async flush(): Promise<boolean> {
    if (this.#running !== null) await this.#running;
    this.#running ??= this.#writeOut().finally(() => {
      this.#running = null;
    });
    return this.#running;
  }

  /** Resolves when the disk has taken the header, or there is trouble. */
  async begin(): Promise<void> {
    const trouble = new Promise<void>((resolve) => (this.#stopOpening = resolve));
    await Promise.race([this.flush(), trouble]);
    this.#stopOpening = null;
    this.#keepFlushing();
  }

  async close(atMs: number): Promise<boolean> {
    if (this.#closed) return this.#trouble === null;
    this.#closed = true;
    this.#stopTimer();
    this.#queue.push(endLine(atMs, { ...this.#counts, lost: this.#queue.droppedInAll }), 'event');
    const complete = await this.flush();
    await this.#file.close();
    return complete;
  }

  #keepFlushing(): void {
    this.#stopTimer = this.#wall.after(FLUSH_EVERY_MS, () => {
      this.#keepFlushing();
      if (this.#running === null) void this.flush();
    });
  }

  #declare(reading: ReadingEvent): number {
    const key = `${reading.instrument}\n${reading.channel}\n${reading.unit}`;
    const known = this.#indexOf.get(key);
    if (known !== undefined) return known;
    const index = this.#indexOf.size;
    this.#indexOf.set(key, index);
    this.#queue.push(channelLine(index, reading), 'declaration');
    return index;
  }

  async #writeOut(): Promise<boolean> {
    const stopWaiting = this.#wall.after(HANGING_MS, () =>
      this.#tellTrouble(new Error('no answer from the disk')),
    );
    try {
      await this.#file.commit();
      if (this.#queue.length > 0) {
        this.#loadBlock();
        await this.#file.commit();
      }
      this.#tellWell();
      return true;
    } catch (error) {
      this.#tellTrouble(error);
      return false;
    } finally {
      stopWaiting();
    }
  }

  #loadBlock(): void {
    const { lines, dropped } = this.#queue.take();
    let text = dropped === 0 ? '' : `${lostLine(dropped)}\n`;
    for (const line of lines) {
      text += `${line.text}\n`;
      if (line.worth === 'declaration') this.#declared += `${line.text}\n`;
    }
    this.#file.load(text, lines.length);
  }

  #tellTrouble(error: unknown): void {
    const why = troubleWords(this.#file.place, error);
    if (why === this.#trouble) return;
    this.#trouble = why;
    if (this.#stopOpening === null) this.#onTrouble(why);
    else this.#stopOpening();
  }

  #tellWell(): void {
    if (this.#trouble === null) return;
    this.#trouble = null;
    this.#onWell();
  }
}
