/** What a waiting line is worth when the queue is full: `sample`s go first, `declaration`s never. */
export type LineWorth = 'sample' | 'event' | 'declaration';

export interface WaitingLine {
  readonly text: string;
  readonly worth: LineWorth;
  /** How many readings and ticks it holds; 1 for any other line. */
  readonly entries: number;
}

/** Rough memory of one waiting line beyond its text. */
const OVERHEAD_BYTES = 64;

/**
 * Lines that wait for the disk, oldest first, in bounded memory: when it is full the oldest samples are dropped and
 * counted, then the oldest events. Declarations stay, since later lines can't be read without them.
 */
export class LineQueue {
  readonly #boundBytes: number;
  #lines: WaitingLine[] = [];
  #bytes = 0;
  #dropped = 0;
  #droppedInAll = 0;

  constructor(boundBytes: number) {
    this.#boundBytes = boundBytes;
  }

  get length(): number {
    return this.#lines.length;
  }

  /** How many entries were dropped since the beginning. */
  get droppedInAll(): number {
    return this.#droppedInAll;
  }

  push(text: string, worth: LineWorth, entries = 1): void {
    this.#lines.push({ text, worth, entries });
    this.#bytes += text.length + OVERHEAD_BYTES;
    if (this.#bytes <= this.#boundBytes) return;
    // An eighth more than needed, so that a full queue isn't gone through again for each line.
    const goalBytes = this.#boundBytes * (7 / 8);
    this.#dropOldest('sample', goalBytes);
    this.#dropOldest('event', goalBytes);
  }

  /** Takes everything out. `dropped`: how many entries are missing before the first one. */
  take(): { readonly lines: readonly WaitingLine[]; readonly dropped: number } {
    const taken = { lines: this.#lines, dropped: this.#dropped };
    this.#lines = [];
    this.#bytes = 0;
    this.#dropped = 0;
    return taken;
  }

  #dropOldest(worth: LineWorth, goalBytes: number): void {
    this.#lines = this.#lines.filter((line) => {
      if (this.#bytes <= goalBytes || line.worth !== worth) return true;
      this.#bytes -= line.text.length + OVERHEAD_BYTES;
      this.#dropped += line.entries;
      this.#droppedInAll += line.entries;
      return false;
    });
  }
}
