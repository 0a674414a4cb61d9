import type { InstrumentEvent } from '../drivers/driver.js';
import type { Link } from '../drivers/link.js';
import { MOST_LINES, RawLines } from '../drivers/links/raw-lines.js';
import { tappedLink } from '../drivers/links/tapped.js';

type Reading = Pick<Extract<InstrumentEvent, { kind: 'reading' }>, 'channel' | 'value' | 'unit' | 'mark'>;

/** A line of an instrument with the readings that followed from it. */
export interface HeardLine {
  readonly number: number;
  readonly atMs: number;
  readonly text: string;
  readonly readings: readonly Reading[];
}

/** Readings of one line; a board prints fewer. */
const MOST_READINGS = 32;

class InstrumentTap {
  readonly lines = new RawLines();
  /** By the number of the line. */
  readonly #readings = new Map<number, Reading[]>();

  note({ channel, value, unit, mark }: Reading): void {
    const newest = this.lines.lines.at(-1);
    if (newest === undefined) return;
    const readings = this.#readings.get(newest.number) ?? [];
    if (readings.length === MOST_READINGS) return;
    readings.push({ channel, value, unit, ...(mark !== undefined && { mark }) });
    this.#readings.set(newest.number, readings);
    const [oldest] = this.#readings.keys();
    if (this.#readings.size > MOST_LINES && oldest !== undefined) this.#readings.delete(oldest);
  }

  heard(): readonly HeardLine[] {
    return this.lines.lines.map((line) => ({ ...line, readings: this.#readings.get(line.number) ?? [] }));
  }
}

/** The newest raw lines of each instrument that runs, with what was read from them. */
export class InstrumentTaps {
  readonly #taps = new Map<string, InstrumentTap>();

  /** The instrument's link with a tap on it. */
  linkOf(instrument: string, link: Link, nowMs: () => number): Link {
    const tap = new InstrumentTap();
    this.#taps.set(instrument, tap);
    return tappedLink(link, {
      onBytes: (chunk) => tap.lines.push(chunk, nowMs()),
      onOpened: () => tap.lines.forgetPartial(),
    });
  }

  /** A reading that its driver just made. */
  note(instrument: string, reading: Reading): void {
    this.#taps.get(instrument)?.note(reading);
  }

  /** Oldest first; null for an instrument without a cable. */
  heard(instrument: string): readonly HeardLine[] | null {
    return this.#taps.get(instrument)?.heard() ?? null;
  }
}
