import type { ReadingEvent, TickEvent } from '../watch/events.js';

/** Stands where a reading has the index of its channel. */
export const TICK_INDEX = -1;
/** So much is lost with one damaged line. */
const MOST_ENTRIES = 32;
/** Three centuries: beyond it a session's time of day is no date any more (ECMA-262, 21.4.1.1). */
const LONGEST_SESSION_MS = 1e13;

export type ReadingMark = NonNullable<ReadingEvent['mark']>;
/** What a channel line declares. */
export type DeclaredChannel = Pick<ReadingEvent, 'instrument' | 'channel' | 'unit'>;

const MARKS: Readonly<Record<ReadingMark, true>> = {
  overload: true,
  'not-a-number': true,
  'out-of-range': true,
};

/**
 * Readings and ticks that follow each other, gathered into one line:
 * `[atMs,index,value,laterMs,index,value,laterMs,-1,…]`, so that a reading costs its digits and little else.
 */
export class Row {
  #entries = '';
  #count = 0;
  #lastMs = 0;
  #isTick = false;

  get count(): number {
    return this.#count;
  }

  /** Whether an entry of this time goes into the same line and reads back as it was. */
  takes(atMs: number): boolean {
    if (this.#count === 0) return true;
    if (this.#count === MOST_ENTRIES) return false;
    const isWhole = Number.isSafeInteger(atMs) && Number.isSafeInteger(this.#lastMs);
    return isWhole && atMs >= this.#lastMs && !Object.is(atMs, -0);
  }

  /** @throws {RangeError} when the time isn't finite. */
  addTick({ atMs }: TickEvent): void {
    this.#isTick = this.#count === 0;
    this.#entries += `${this.#time(atMs)},${TICK_INDEX}`;
    this.#lastMs = atMs;
  }

  /** @throws {RangeError} when a number isn't finite. */
  addReading(index: number, { atMs, value, mark }: ReadingEvent): void {
    const number = value === null ? 'null' : exactNumber(value, 'value');
    const tail = mark === undefined ? '' : `,"${mark}"`;
    this.#entries += `${this.#time(atMs)},${index},${number}${tail}`;
    this.#lastMs = atMs;
    this.#isTick = false;
  }

  /** The line, and an empty row from now on. A tick by itself is `[atMs]`. */
  take(): { readonly text: string; readonly entries: number } {
    const text = this.#isTick ? `[${exactNumber(this.#lastMs, 'atMs')}]` : `[${this.#entries}]`;
    const taken = { text, entries: this.#count };
    this.#entries = '';
    this.#count = 0;
    this.#isTick = false;
    return taken;
  }

  #time(atMs: number): string {
    const text =
      this.#count === 0 ? exactNumber(atMs, 'atMs') : `,${exactNumber(atMs - this.#lastMs, 'atMs')}`;
    this.#count += 1;
    return text;
  }
}

export type RowEvents = readonly (ReadingEvent | TickEvent)[];

/**
 * Reads a line of readings and ticks back.
 * @returns its events, or why it is no such line
 */
export function readRow(
  found: readonly unknown[],
  channels: readonly (DeclaredChannel | undefined)[],
): RowEvents | string {
  const events: (ReadingEvent | TickEvent)[] = [];
  const { length } = found;
  let atMs = 0;
  for (let at = 0; at < length;) {
    const time = found[at];
    if (typeof time !== 'number' || (at > 0 && time < 0)) return 'it is no reading';
    atMs = at === 0 ? time : atMs + time;
    if (Math.abs(atMs) > LONGEST_SESSION_MS) return 'its time is none of a session';
    const index = found[at + 1];
    if (index === TICK_INDEX || length === 1) {
      events.push({ kind: 'tick', atMs });
      at += 2;
      continue;
    }
    const declared = typeof index === 'number' ? channels[index] : undefined;
    if (declared === undefined) return 'its channel was never declared';
    const value = found[at + 2];
    const { instrument, channel, unit } = declared;
    // JSON.parse reads 1e999 as infinite.
    if (typeof value === 'number' && Number.isFinite(value)) {
      events.push({ kind: 'reading', atMs, instrument, channel, value, unit });
      at += 3;
    } else if (value === null) {
      const mark = found[at + 3];
      const event = { kind: 'reading', atMs, instrument, channel, value, unit } as const;
      if (typeof mark !== 'string') events.push(event);
      else if (isMark(mark)) events.push({ ...event, mark });
      else return 'it is no reading';
      at += typeof mark === 'string' ? 4 : 3;
    } else return 'it is no reading';
  }
  return length === 0 ? 'it is no reading' : events;
}

function isMark(word: string): word is ReadingMark {
  return Object.hasOwn(MARKS, word);
}

/** JSON would turn a NaN into null and -0 into 0: such a line wouldn't read back as it was. */
export function exactNumber(value: number, name: string): string {
  if (!Number.isFinite(value)) {
    throw new RangeError(
      `${name}: found ${value}; a recording holds finite numbers only, so give null and a mark`,
    );
  }
  return Object.is(value, -0) ? '-0' : String(value);
}
