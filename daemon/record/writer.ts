import { isRecorded, type Effect } from '../watch/effects.js';
import type { ReadingEvent, WatchEvent } from '../watch/events.js';
import { systemDisk, type Disk } from './disk.js';
import { channelLine, effectLine, endLine, eventLine, lostLine } from './encode.js';
import type { RecordingHeader } from './header.js';
import { LineQueue } from './line-queue.js';
import { PartedFile } from './parted-file.js';
import { RoomForecast } from './room.js';
import { Row } from './row.js';
import { troubleWords } from './trouble.js';
import { backgroundWall, type Wall } from '../time/wall.js';

/** Under a second by as much as a slow disk may take, so that a crash loses at most the last second. */
const FLUSH_EVERY_MS = 750;
/** A write that takes longer than this is told: the disk hangs. */
const HANGING_MS = 5_000;
/** About a quarter of an hour at 500 readings a second. */
const QUEUE_BYTES = 32 * 1024 * 1024;
/** About a week at ten readings a second; still opens in an editor. */
const PART_BYTES = 128 * 1024 * 1024;
/** When the session has begun, so that it is there to be told. */
const FIRST_LOOK_MS = 1000;
const LOOK_FOR_ROOM_MS = 60_000;

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
  /** Called when the disk is about to be full, with words for a person. Must not throw. */
  readonly onLittleRoom: (why: string) => void;
  readonly disk?: Disk;
  readonly wall?: Wall;
  /** A file that has grown to this is followed by another. */
  readonly partBytes?: number;
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
  /** Records what an alarm or a cut-off did, right after the event that caused it, and writes at once. Verdicts aren't recorded. */
  appendEffect(effect: Effect): void;
  /** Resolves when everything appended so far is on the disk (true), or can't be written now (false). Never rejects. */
  flush(): Promise<boolean>;
  /** Writes the closing line and closes the file. Resolves with whether everything is on the disk. */
  close(atMs: number): Promise<boolean>;
  /** In place of `close` when nothing was appended and nothing will be: takes the file away. Never rejects. */
  withdraw(): Promise<void>;
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
  readonly #onLittleRoom: (why: string) => void;
  readonly #disk: Disk;
  readonly #folder: string;
  readonly #wall: Wall;
  readonly #room = new RoomForecast();
  readonly #queue: LineQueue;
  /** Readings and ticks since the last other line. */
  readonly #row = new Row();
  readonly #file: PartedFile;
  readonly #indexOf = new Map<string, number>();
  /** What was appended since the room on the disk was looked for, and when that was. */
  #grownBytes = 0;
  #lookedAtMs: number;
  #counts = { readings: 0, events: 0, alarms: 0 };
  #running: Promise<boolean> | null = null;
  #flushSoon = false;
  #stopTimer: () => void = () => undefined;
  #stopLooking: () => void = () => undefined;
  /** Called when there is trouble, to end the waiting for the disk. */
  #stopOpening: (() => void) | null = null;
  #closed = false;
  /** Set when the closing line is still to be written. */
  #endAtMs: number | null = null;
  #trouble: string | null = null;

  constructor(options: RecordingOptions) {
    const {
      folder,
      name,
      header,
      disk = systemDisk,
      wall = backgroundWall,
      queueBytes = QUEUE_BYTES,
      partBytes = PART_BYTES,
    } = options;
    this.#onTrouble = options.onTrouble;
    this.#onWell = options.onWell;
    this.#onLittleRoom = options.onLittleRoom;
    this.#disk = disk;
    this.#folder = folder;
    this.#wall = wall;
    this.#lookedAtMs = wall.nowMs();
    this.#queue = new LineQueue(queueBytes);
    this.#file = new PartedFile({ disk, folder, name, header, partBytes });
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
    if (event.kind === 'reading') this.#appendReading(event);
    else if (event.kind === 'tick') {
      if (!this.#row.takes(event.atMs)) this.#endRow();
      this.#row.addTick(event);
    } else this.#push(eventLine(event));
  }

  appendEffect(effect: Effect): void {
    if (this.#closed || !isRecorded(effect)) return;
    if (effect.kind === 'alarm' && effect.change === 'raised') this.#counts.alarms += 1;
    this.#push(effectLine(effect));
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
    this.#keepLookingForRoom(FIRST_LOOK_MS);
  }

  async withdraw(): Promise<void> {
    this.#stop();
    await this.#running;
    // A file that can't be taken away is no worse than one that was kept.
    await this.#file.withdraw().catch(() => undefined);
  }

  async close(atMs: number): Promise<boolean> {
    if (this.#closed) return this.#trouble === null;
    this.#stop();
    this.#endRow();
    this.#endAtMs = atMs;
    const complete = await this.flush();
    await this.#file.close();
    return complete;
  }

  #stop(): void {
    this.#closed = true;
    this.#stopTimer();
    this.#stopLooking();
  }

  #keepFlushing(): void {
    this.#stopTimer = this.#wall.after(FLUSH_EVERY_MS, () => {
      this.#keepFlushing();
      if (this.#running === null) void this.flush();
    });
  }

  #keepLookingForRoom(delayMs: number): void {
    this.#stopLooking = this.#wall.after(delayMs, () => {
      void this.#lookForRoom().then(() => {
        if (!this.#closed) this.#keepLookingForRoom(LOOK_FOR_ROOM_MS);
      });
    });
  }

  /** A disk that can't say how much fits is no reason to trouble anybody: what can't be written is told anyway. */
  async #lookForRoom(): Promise<void> {
    const freeBytes = await this.#disk.roomBytes(this.#folder).catch(() => Infinity);
    const seconds = (this.#wall.nowMs() - this.#lookedAtMs) / 1000;
    const words = this.#room.next(freeBytes, this.#grownBytes, seconds);
    this.#lookedAtMs = this.#wall.nowMs();
    this.#grownBytes = 0;
    if (words !== null && !this.#closed) this.#onLittleRoom(words);
  }

  #appendReading(reading: ReadingEvent): void {
    this.#counts.readings += 1;
    const index = this.#declare(reading);
    if (!this.#row.takes(reading.atMs)) this.#endRow();
    this.#row.addReading(index, reading);
  }

  /** Any line but a row of readings. */
  #push(text: string): void {
    this.#endRow();
    this.#queue.push(text, 'event');
  }

  #endRow(): void {
    if (this.#row.count === 0) return;
    const { text, entries } = this.#row.take();
    this.#queue.push(text, 'sample', entries);
  }

  #declare(reading: ReadingEvent): number {
    const key = `${reading.instrument}\n${reading.channel}\n${reading.unit}`;
    const known = this.#indexOf.get(key);
    if (known !== undefined) return known;
    const index = this.#indexOf.size;
    this.#indexOf.set(key, index);
    this.#endRow();
    this.#queue.push(channelLine(index, reading), 'declaration');
    return index;
  }

  async #writeOut(): Promise<boolean> {
    const stopWaiting = this.#wall.after(HANGING_MS, () =>
      this.#tellTrouble(new Error('no answer from the disk')),
    );
    try {
      await this.#file.commit();
      this.#endRow();
      if (this.#queue.length > 0 || this.#endAtMs !== null) {
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
    let declared = '';
    let entries = 0;
    for (const line of lines) {
      text += `${line.text}\n`;
      entries += line.entries;
      if (line.worth === 'declaration') declared += `${line.text}\n`;
    }
    this.#grownBytes += text.length;
    if (this.#endAtMs === null) return this.#file.load(text, entries, declared);
    const summary = { ...this.#counts, lost: this.#queue.droppedInAll };
    this.#file.loadLast(`${text}${endLine(this.#endAtMs, summary)}\n`, entries + 1, declared);
    this.#endAtMs = null;
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
