import type { RecordedEffect } from '../watch/effects.js';
import type { ReadingEvent, TickEvent, WatchEvent } from '../watch/events.js';
import type { RecordingHeader } from './header.js';
import { exactNumber } from './row.js';

/** How much a recording holds, told in its closing line. */
export interface RecordingSummary {
  readonly readings: number;
  readonly events: number;
  readonly alarms: number;
  /** Readings, ticks and other lines that were dropped because the disk didn't take them. */
  readonly lost: number;
}

export function headerLine(header: RecordingHeader): string {
  return exactJson(header);
}

/** Says what the readings with this index are. Stands before the first of them. */
export function channelLine(index: number, { instrument, channel, unit }: ReadingEvent): string {
  return JSON.stringify({ kind: 'channel', index, instrument, channel, unit });
}

/** Any event but a reading or a tick: the object as it is. */
export function eventLine(event: Exclude<WatchEvent, ReadingEvent | TickEvent>): string {
  return exactJson(event);
}

/** Whether every number in it can be written down. */
export function isRecordable(event: Exclude<WatchEvent, ReadingEvent | TickEvent>): boolean {
  try {
    eventLine(event);
    return true;
  } catch (problem) {
    if (problem instanceof RangeError) return false;
    throw problem;
  }
}

/** What an alarm or a cut-off did, for a person who reads the file and for checking a replay; never an input. */
export function effectLine(effect: RecordedEffect): string {
  return JSON.stringify({ kind: 'effect', effect });
}

export function lostLine(lines: number): string {
  return JSON.stringify({ kind: 'lost', lines });
}

export function endLine(atMs: number, summary: RecordingSummary): string {
  return JSON.stringify({ kind: 'end', atMs, summary });
}

/** The very last line: SHA-256 of all bytes before it, so that a later change of the file shows. */
export function sealLine(sha256: string): string {
  return JSON.stringify({ kind: 'seal', sha256 });
}

/** Last line but the seal of a file after which the session goes on in another. */
export function nextLine(file: string): string {
  return JSON.stringify({ kind: 'next', file });
}

function exactJson(data: object): string {
  return JSON.stringify(data, (name, value: unknown) => {
    if (typeof value === 'number' && !Number.isFinite(value)) exactNumber(value, name);
    return value;
  });
}
