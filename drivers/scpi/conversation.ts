import type { Clock } from '../clock.js';
import type { FaultTeller } from '../fault-teller.js';
import { lineReader, type LineReader } from '../lines/line-reader.js';
import { NulEnds } from '../lines/nul-ends.js';

/** What a script waits for. */
export type Wait =
  /**
   * The next line, or null when none comes within `withinMs`; with `silenceMs` also as soon as nothing at all has
   * come for that long.
   */
  | { readonly for: 'line'; readonly withinMs: number; readonly silenceMs?: number }
  /** Silence of `quietMs`, at most `withinMs` long; true when it was reached. */
  | { readonly for: 'quiet'; readonly quietMs: number; readonly withinMs: number }
  /** `delayMs` to pass. */
  | { readonly for: 'delay'; readonly delayMs: number };

/** One line from the instrument. `text` is null when it was dropped as unreadable. */
export interface HeardLine {
  readonly text: string | null;
  readonly atMs: number;
  /** The data block that stood in the line, where the reader knows blocks; the text has `#` in its place. */
  readonly block?: Uint8Array;
}

/** Makes the reader of one connection: it hands each line to `keep`, a dropped one with null for its text. */
export type ReaderMaker = (keep: (line: HeardLine) => void, faults: FaultTeller) => LineReader;

/** What a wait ends with: a line, null for a time-out or a delay that is over, or whether it became quiet. */
export type Outcome = HeardLine | null | boolean;

/** A talk with an instrument, written in the order in which it happens. It ends only by being abandoned. */
export type Script = Generator<Wait, void, Outcome>;

/** Lines that nobody has waited for. A device that sends more is not answering; the rest is dropped. */
const MOST_UNREAD_LINES = 64;

/**
 * Runs a script over one connection: hands it lines as it waits for them and wakes it when the time is up. A chunk
 * is taken in whole before the script sees its first line, so that it can tell an answer from an answer with
 * something behind it.
 */
export class Conversation {
  readonly #clock: Clock;
  readonly #faults: FaultTeller;
  readonly #makeReader: ReaderMaker;
  #script: Script | null = null;
  #reader: LineReader;
  #wait: Wait | null = null;
  #unread: HeardLine[] = [];
  #lastByteMs: number;
  #deadlineMs = 0;
  #running = false;
  #cancelTimer: () => void = () => undefined;

  constructor(clock: Clock, faults: FaultTeller, makeReader: ReaderMaker = textReaders()) {
    this.#clock = clock;
    this.#faults = faults;
    this.#makeReader = makeReader;
    this.#lastByteMs = clock.nowMs();
    this.#reader = this.#newReader();
  }

  /** Whether a line has begun that hasn't ended. */
  get midLine(): boolean {
    return this.#reader.midLine;
  }

  /** Whether something unreadable has come behind the last line that was handed over. */
  get hasUnreadable(): boolean {
    return this.#unread.some(({ text }) => text === null);
  }

  run(script: Script): void {
    this.#script = script;
    this.#advance(null);
  }

  push(chunk: Uint8Array, atMs: number): void {
    this.#lastByteMs = atMs;
    this.#reader.push(chunk, atMs);
    this.#handOver();
  }

  /** Takes away the lines that have come and that the script hasn't read. */
  takeUnread(): readonly HeardLine[] {
    const unread = this.#unread;
    this.#unread = [];
    return unread;
  }

  /** Takes away all that has come, a line under way included. */
  startAfresh(): readonly HeardLine[] {
    this.#reader.end();
    this.#reader = this.#newReader();
    return this.takeUnread();
  }

  /** Abandons the script. */
  end(): void {
    this.#cancelTimer();
    this.#reader.end();
    this.#script = null;
    this.#wait = null;
  }

  #newReader(): LineReader {
    return this.#makeReader((line) => this.#keep(line), this.#faults);
  }

  #keep(line: HeardLine): void {
    if (this.#unread.length < MOST_UNREAD_LINES) this.#unread.push(line);
    else this.#faults.count('late-answer', 'more lines than were asked for', line.text ?? '');
  }

  /** Gives the script the lines that it waits for. Called again from within, it leaves the work to the outer call. */
  #handOver(): void {
    while (!this.#running && this.#wait?.for === 'line') {
      const line = this.#unread.shift();
      if (line === undefined) return;
      this.#advance(line);
    }
  }

  #advance(outcome: Outcome): void {
    const script = this.#script;
    if (script === null) return;
    this.#cancelTimer();
    this.#wait = null;
    this.#running = true;
    const step = script.next(outcome);
    this.#running = false;
    if (this.#script !== script || step.done === true) return;
    this.#begin(step.value);
    this.#handOver();
  }

  #begin(wait: Wait): void {
    this.#wait = wait;
    const delayMs = wait.for === 'delay' ? wait.delayMs : wait.withinMs;
    this.#deadlineMs = this.#clock.nowMs() + delayMs;
    if (wait.for === 'quiet') this.#checkQuiet(wait);
    else if (wait.for === 'line' && wait.silenceMs !== undefined) this.#checkSilence(wait.silenceMs);
    else this.#cancelTimer = this.#clock.after(delayMs, () => this.#advance(null));
  }

  #checkQuiet(wait: Extract<Wait, { for: 'quiet' }>): void {
    const quietAtMs = Math.max(this.#lastByteMs, this.#deadlineMs - wait.withinMs) + wait.quietMs;
    const atMs = Math.min(quietAtMs, this.#deadlineMs);
    const nowMs = this.#clock.nowMs();
    this.#cancelTimer = this.#clock.after(Math.max(0, atMs - nowMs), () => {
      // The same sum as above: its difference may round to just under.
      const reached = this.#clock.nowMs() >= this.#lastByteMs + wait.quietMs;
      if (reached || this.#clock.nowMs() >= this.#deadlineMs) this.#advance(reached);
      else this.#checkQuiet(wait);
    });
  }

  /** Gives up at the deadline, or before it when nothing has come since the wait began or the last byte. */
  #checkSilence(silenceMs: number, sinceMs: number = this.#clock.nowMs()): void {
    const silentAtMs = Math.max(this.#lastByteMs, sinceMs) + silenceMs;
    const atMs = Math.min(silentAtMs, this.#deadlineMs);
    this.#cancelTimer = this.#clock.after(Math.max(0, atMs - this.#clock.nowMs()), () => {
      const nowMs = this.#clock.nowMs();
      const isOver = nowMs >= this.#deadlineMs || nowMs >= Math.max(this.#lastByteMs, sinceMs) + silenceMs;
      if (isOver) this.#advance(null);
      else this.#checkSilence(silenceMs, sinceMs);
    });
  }
}

/** Readers of lines of text only, for one connection. */
function textReaders(): ReaderMaker {
  const nulEnds = new NulEnds();
  return (keep, faults) => {
    let lastByteMs = 0;
    const reader = lineReader({
      // Some devices put a line end before an answer too, or two behind it.
      onLine: (text, atMs) => void (text.trim() !== '' && keep({ text, atMs })),
      onFault: (code, detail) => {
        faults.count(code, detail);
        keep({ text: null, atMs: lastByteMs });
      },
    });
    return {
      push(chunk, atMs) {
        lastByteMs = atMs;
        reader.push(nulEnds.trimmed(chunk), atMs);
      },
      get midLine() {
        return reader.midLine;
      },
      end: () => reader.end(),
    };
  };
}
