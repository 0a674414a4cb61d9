import { isoWithOffset } from '../header.js';

const MINUTE_MS = 60_000;

/** Times of day of a session, at the offset from UTC that it began with: it goes on when the summer ends. */
export class TimeOfDay {
  readonly #startMs: number;
  readonly #offsetMinutes: number;

  /** @param startedAt ISO 8601 with its offset, as in a recording's header */
  constructor(startedAt: string) {
    this.#startMs = Date.parse(startedAt);
    const [, sign, hours, minutes] = /([+-])(\d\d):(\d\d)$/.exec(startedAt) ?? [];
    const size = Number(hours ?? 0) * 60 + Number(minutes ?? 0);
    this.#offsetMinutes = sign === '-' ? -size : size;
  }

  /** `2026-11-25T09:39:12.345+01:00` */
  iso(atMs: number): string {
    return isoWithOffset(new Date(this.#startMs + atMs), this.#offsetMinutes);
  }

  /** `25 November 2026, 09:39` */
  words(atMs: number): string {
    const local = new Date(this.#startMs + atMs + this.#offsetMinutes * MINUTE_MS);
    const day = local.toLocaleDateString('en-GB', {
      timeZone: 'UTC',
      day: 'numeric',
      month: 'long',
      year: 'numeric',
    });
    return `${day}, ${local.toISOString().slice(11, 16)}`;
  }
}

/** Session time as a person reads it: `2:05`, `1:02:05`. */
export function spanWords(ms: number): string {
  const seconds = Math.floor(ms / 1000);
  const [hours, minutes] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60];
  const tail = `${hours > 0 ? String(minutes).padStart(2, '0') : minutes}:${String(seconds % 60).padStart(2, '0')}`;
  return hours > 0 ? `${hours}:${tail}` : tail;
}
