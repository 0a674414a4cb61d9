import type { AlarmEffect } from '../watch/effects.js';
import type { ReadingEvent, TickEvent, WatchEvent } from '../watch/events.js';
import type { RecordingHeader } from './header.js';

/** How much a recording holds, told in its closing line. */
export interface RecordingSummary {
  readonly readings: number;
  readonly events: number;
  readonly alarms: number;
  /** Lines that were dropped because the disk didn't take them. */
  readonly lost: number;
}

export function headerLine(header: RecordingHeader): string {
  return exactJson(header);
}

/** Says what the readings with this index are. Stands before the first of them. */
export function channelLine(index: number, { instrument, channel, unit }: ReadingEvent): string {
  return JSON.stringify({ kind: 'channel', index, instrument, channel, unit });
}

/** `[atMs,index,value]`, or `[atMs,index,null,"overload"]` for a reading without a number. */
export function readingLine(index: number, { atMs, value, mark }: ReadingEvent): string {
  const number = value === null ? 'null' : exactNumber(value, 'value');
  const tail = mark === undefined ? '' : `,"${mark}"`;
  return `[${exactNumber(atMs, 'atMs')},${index},${number}${tail}]`;
}

/** `[atMs]`: ticks are the commonest lines of a quiet session. */
export function tickLine({ atMs }: TickEvent): string {
  return `[${exactNumber(atMs, 'atMs')}]`;
}

/** Any event but a reading or a tick: the object as it is. */
export function eventLine(event: Exclude<WatchEvent, ReadingEvent | TickEvent>): string {
  return exactJson(event);
}

/** An alarm's change, for a person who reads the file and for checking a replay; never an input. */
export function effectLine(effect: AlarmEffect): string {
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

/** The computer's clock was set, or the computer slept: what it would have shown, and what it shows. */
export function clockLine(atMs: number, was: Date, is: Date): string {
  return JSON.stringify({ kind: 'clock', atMs, was: was.toISOString(), is: is.toISOString() });
}

/** JSON would turn a NaN into null and -0 into 0: such a line wouldn't read back as it was. */
function exactNumber(value: number, name: string): string {
  if (!Number.isFinite(value)) {
    throw new RangeError(
      `${name}: found ${value}; a recording holds finite numbers only, so give null and a mark`,
    );
  }
  return Object.is(value, -0) ? '-0' : String(value);
}

function exactJson(data: object): string {
  return JSON.stringify(data, (name, value: unknown) => {
    if (typeof value === 'number' && !Number.isFinite(value)) exactNumber(value, name);
    return value;
  });
}
