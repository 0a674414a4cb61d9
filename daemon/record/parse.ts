import { plainJson } from '../design/obeyed-signs.js';
import type { RecordedEffect } from '../watch/effects.js';
import type { WatchEvent } from '../watch/events.js';
import type { RecordingSummary } from './encode.js';
import { RECORDING_FORMAT, RECORDING_VERSION, type RecordingHeader } from './header.js';
import type { FileLine } from './lines.js';
import { readRow, type DeclaredChannel, type RowEvents } from './row.js';
import {
  asOtherEvent,
  channelSchema,
  endSchema,
  headerSchema,
  lostSchema,
  nextSchema,
  recordedEffectSchema,
  sealSchema,
} from './schemas.js';

/**
 * - `torn`: the last line was cut off. `too-long`, `not-text`, `damaged`: a line was skipped.
 * - `lost`: the disk didn't take these lines then. `not-closed`: no closing line, the program stopped suddenly.
 * - `altered`: the bytes aren't those that were written. `part-missing`: another file of the session isn't there.
 */
export type RecordingProblem =
  'torn' | 'too-long' | 'not-text' | 'damaged' | 'lost' | 'not-closed' | 'altered' | 'part-missing';

/** What stands in a recording, in order. Lines are counted from 1. */
export type RecordingItem =
  | { readonly kind: 'header'; readonly line: number; readonly header: RecordingHeader }
  | { readonly kind: 'event'; readonly line: number; readonly event: WatchEvent }
  | { readonly kind: 'effect'; readonly line: number; readonly effect: RecordedEffect }
  | {
      readonly kind: 'problem';
      readonly line: number;
      readonly problem: RecordingProblem;
      readonly why: string;
    }
  | {
      readonly kind: 'end';
      readonly line: number;
      readonly atMs: number;
      readonly summary: RecordingSummary;
    }
  /** The session goes on in this file of the same folder. */
  | { readonly kind: 'next'; readonly line: number; readonly file: string };

/** The same, with the readings and ticks of one line together: for whoever reads fast. */
export type PieceItem =
  RecordingItem | { readonly kind: 'events'; readonly line: number; readonly events: RowEvents };

/** One after the other. */
export function* singleItems(items: readonly PieceItem[]): Generator<RecordingItem, void, void> {
  for (const item of items) {
    if (item.kind !== 'events') yield item;
    else for (const event of item.events) yield { kind: 'event', line: item.line, event };
  }
}

/** A file that isn't a recording, or can't be understood from its first line on. */
export class NotARecording extends Error {
  override readonly name = 'NotARecording';
}

/** Recordings of version 1 have no seal. */
const FIRST_SEALED_VERSION = 2;

/** What a parser must know to go on in the middle of a file. */
export interface ParserMemory {
  readonly channels: readonly (DeclaredChannel | undefined)[];
  readonly version: number;
}

/** Turns the lines of one recording into items, one line after the other. */
export class RecordingParser {
  readonly #file: string;
  readonly #channels: (DeclaredChannel | undefined)[] = [];
  #version = 0;
  #begun = false;
  #closed = false;
  #seal: string | null = null;
  #next: string | null = null;
  #line = 0;

  /**
   * @param file what error messages call it
   * @param memory of a parser that has read everything before, to go on from there
   */
  constructor(file: string, memory?: ParserMemory) {
    this.#file = file;
    if (memory === undefined) return;
    this.#begun = true;
    this.#version = memory.version;
    // A memory that went through JSON has null where a channel line was damaged.
    this.#channels.push(...memory.channels.map((channel) => channel ?? undefined));
  }

  /** The file in which the session goes on, once that was read. */
  get next(): string | null {
    return this.#next;
  }

  memory(): ParserMemory {
    return { channels: [...this.#channels], version: this.#version };
  }

  /**
   * Adds the items of a line, none for one that only prepares for later lines.
   * @throws {NotARecording} on the first line.
   */
  push({ line, text, fault, ended }: FileLine, into: PieceItem[]): void {
    this.#line = line;
    if (!this.#begun) {
      this.#begun = true;
      into.push({ kind: 'header', line, header: this.#header(text) });
      return;
    }
    if (text === '' || text === '\r') return;
    const found = this.#seal === null && text !== null ? parsed(text) : undefined;
    if (!Array.isArray(found)) {
      const item = this.#otherLine(found, text, fault, ended);
      if (item !== null) into.push(item);
      return;
    }
    const events = readRow(found, this.#channels);
    if (typeof events === 'string') into.push(this.#damaged(events, text ?? ''));
    else into.push({ kind: 'events', line, events });
  }

  #otherLine(
    found: unknown,
    text: string | null,
    fault: FileLine['fault'],
    ended: boolean,
  ): RecordingItem | null {
    if (this.#seal !== null)
      return this.#problem('altered', 'there is something behind the last line; skipped');
    if (fault === 'too-long')
      return this.#problem('too-long', 'the line is longer than any of ours; skipped');
    if (text === null) return this.#problem('not-text', 'the line is not UTF-8 text; skipped');
    if (found === undefined) {
      return ended
        ? this.#problem('damaged', `found ${shortened(text)}; it is not JSON, skipped`)
        : this.#problem('torn', 'the last line is cut off, as after a sudden stop; dropped');
    }
    const item = this.#object(found, text);
    if (!ended && this.#seal !== null) return this.#problem('torn', 'the last line lacks its line feed');
    return item;
  }

  /**
   * What is to be said when the file has ended.
   * @param sha256 of all bytes before the last line
   * @throws {NotARecording} when it was empty.
   */
  end(sha256: string): RecordingItem | null {
    if (!this.#begun) {
      throw new NotARecording(`${this.#file}: the file is empty; the disk took nothing of that session.`);
    }
    if (!this.#closed) {
      return this.#problem(
        'not-closed',
        'no closing line: the session stopped suddenly, its last second may be missing, and no seal would show a changed digit',
      );
    }
    return this.#sealProblem(sha256);
  }

  #sealProblem(sha256: string): RecordingItem | null {
    if (this.#seal === sha256 || (this.#seal === null && this.#version < FIRST_SEALED_VERSION)) return null;
    return this.#seal === null
      ? this.#problem('altered', 'the seal behind the closing line is missing; the file was changed or cut')
      : this.#problem(
          'altered',
          'the file was changed after it was closed: its SHA-256 is not the sealed one. Trust no number in it',
        );
  }

  #header(text: string | null): RecordingHeader {
    const found = text === null ? undefined : parsed(text);
    const format =
      typeof found === 'object' && found !== null && 'format' in found ? found.format : undefined;
    if (format !== RECORDING_FORMAT) {
      throw new NotARecording(
        `${this.#file}:1: not a recording, or its first line is damaged; name a *.ndjson file whose first line has "format":"${RECORDING_FORMAT}".`,
      );
    }
    const version =
      typeof found === 'object' && found !== null && 'version' in found ? found.version : undefined;
    if (typeof version === 'number' && version > RECORDING_VERSION) {
      throw new NotARecording(
        `${this.#file}:1 version: found ${version}, this program reads up to ${RECORDING_VERSION}; use a newer Railminder.`,
      );
    }
    const checked = headerSchema.safeParse(found);
    if (!checked.success) {
      const issue = checked.error.issues[0];
      const key = issue === undefined ? '' : ` ${issue.path.join('.')}: ${issue.message}`;
      throw new NotARecording(
        `${this.#file}:1 the first line is damaged:${key}. Use another copy of the file.`,
      );
    }
    this.#version = checked.data.version;
    return found as RecordingHeader;
  }

  #object(found: unknown, text: string): RecordingItem | null {
    if (typeof found !== 'object' || found === null)
      return this.#damaged('it is neither an event nor a reading', text);
    switch ('kind' in found ? found.kind : null) {
      case 'channel':
        return this.#declare(found, text);
      case 'effect': {
        const checked = 'effect' in found ? recordedEffectSchema.safeParse(found.effect) : null;
        if (checked?.success !== true || !('effect' in found)) return this.#damaged('it is no effect', text);
        return { kind: 'effect', line: this.#line, effect: found.effect as RecordedEffect };
      }
      case 'lost': {
        const checked = lostSchema.safeParse(found);
        if (!checked.success) return this.#damaged('it is no count of lost lines', text);
        return this.#problem(
          'lost',
          `${checked.data.lines} readings, ticks or other lines are missing here: the disk didn't take them then`,
        );
      }
      case 'end': {
        const checked = endSchema.safeParse(found);
        if (!checked.success) return this.#damaged('it is no closing line', text);
        this.#closed = true;
        return { kind: 'end', line: this.#line, ...checked.data };
      }
      case 'next': {
        const checked = nextSchema.safeParse(found);
        if (!checked.success) return this.#damaged('it names no file', text);
        this.#closed = true;
        this.#next = checked.data.file;
        return { kind: 'next', line: this.#line, ...checked.data };
      }
      case 'seal': {
        const checked = sealSchema.safeParse(found);
        if (!checked.success) return this.#damaged('it is no seal', text);
        this.#seal = checked.data.sha256;
        return null;
      }
      default: {
        const event = asOtherEvent(found);
        return event === null
          ? this.#damaged('it is no event that this program knows', text)
          : { kind: 'event', line: this.#line, event };
      }
    }
  }

  #declare(found: object, text: string): RecordingItem | null {
    const checked = channelSchema.safeParse(found);
    if (!checked.success) return this.#damaged('it declares no channel', text);
    const { index, ...channel } = checked.data;
    this.#channels[index] = channel;
    return null;
  }

  #damaged(why: string, text: string): RecordingItem {
    return this.#problem('damaged', `found ${shortened(text)}; ${why}, skipped`);
  }

  #problem(problem: RecordingProblem, why: string): RecordingItem {
    return { kind: 'problem', line: this.#line, problem, why: `${this.#file}:${this.#line}: ${why}.` };
  }
}

function parsed(text: string): unknown {
  try {
    // A row, nearly every line, holds numbers, and words that are looked up and never shown.
    return text.startsWith('[') ? JSON.parse(text) : plainJson(text);
  } catch {
    return undefined;
  }
}

/** Printable and short enough for a message. */
function shortened(text: string): string {
  const printable = text.slice(0, 60).replace(/[^\x20-\x7e]/g, '?');
  return `"${printable}${text.length > 60 ? '…' : ''}"`;
}
