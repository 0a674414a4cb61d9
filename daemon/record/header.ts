import type { WatchPlan } from '../watch/plan.js';

export const RECORDING_FORMAT = 'railminder-recording';
/** The version that is written; every earlier one is read too. */
export const RECORDING_VERSION = 3;

/** A file of the user's as it stood when the session began. */
export interface VerbatimFile {
  readonly file: string;
  readonly text: string;
}

/** The first line of a recording: everything that is fixed for the session. */
export interface RecordingHeader {
  readonly format: typeof RECORDING_FORMAT;
  readonly version: 1 | 2 | typeof RECORDING_VERSION;
  /** Name and version of the program that wrote it. */
  readonly software: string;
  /** Wall time at `atMs` 0, ISO 8601 with its offset from UTC. */
  readonly startedAt: string;
  /** IANA name of the time zone. */
  readonly zone: string;
  readonly design: VerbatimFile;
  readonly bench: VerbatimFile;
  readonly plan: WatchPlan;
  /** Only in the second and later files of a long session. */
  readonly part?: RecordingPart;
  /** Only in a copy that leaves out what was damaged. */
  readonly repairedFrom?: RepairedFrom;
}

/** What a repaired copy was made from. */
export interface RepairedFrom {
  readonly file: string;
  /** Lines that couldn't be understood. */
  readonly dropped: number;
  /** The original had been changed after it was closed: any number in the copy may be wrong. */
  readonly altered: boolean;
}

/** Where a file stands in a session that was cut into several. */
export interface RecordingPart {
  /** 2 for the second file. */
  readonly number: number;
  /** Name of the file before it, in the same folder. */
  readonly after: string;
}

/** Makes the header of a session that begins at `start`. */
export function recordingHeader(
  session: Pick<RecordingHeader, 'software' | 'design' | 'bench' | 'plan'>,
  start: Date,
): RecordingHeader {
  return {
    format: RECORDING_FORMAT,
    version: RECORDING_VERSION,
    software: session.software,
    startedAt: isoWithOffset(start, -start.getTimezoneOffset()),
    zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    design: session.design,
    bench: session.bench,
    plan: session.plan,
  };
}

/** ISO 8601 local time with milliseconds and offset: `2026-11-25T09:39:12.345+01:00`. */
export function isoWithOffset(time: Date, offsetMinutes: number): string {
  const local = new Date(time.getTime() + offsetMinutes * 60_000).toISOString().slice(0, -1);
  const minutes = Math.abs(offsetMinutes);
  const sign = offsetMinutes < 0 ? '-' : '+';
  return `${local}${sign}${twoDigits(Math.floor(minutes / 60))}:${twoDigits(minutes % 60)}`;
}

function twoDigits(value: number): string {
  return String(value).padStart(2, '0');
}
