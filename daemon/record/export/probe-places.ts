import type { ProbeEvent, ReadingEvent } from '../../watch/events.js';

/** Channel, in a form of its own, and test point. */
export type ProbeEntries = readonly (readonly [channel: string, point: string])[];

/** Which test point each channel's probe sits on, while a recording goes by. */
export class ProbePlaces {
  readonly #places: Map<string, string>;

  /** @param entries as `entries` gave them, to go on from there */
  constructor(entries: ProbeEntries = []) {
    this.#places = new Map(entries);
  }

  entries(): ProbeEntries {
    return [...this.#places];
  }

  move({ instrument, channel, point }: ProbeEvent): void {
    if (point === null) this.#places.delete(key(instrument, channel));
    else this.#places.set(key(instrument, channel), point);
  }

  /** Null when the probe sits nowhere. */
  of({ instrument, channel }: Pick<ReadingEvent, 'instrument' | 'channel'>): string | null {
    return this.#places.get(key(instrument, channel)) ?? null;
  }
}

function key(instrument: string, channel: string): string {
  return `${instrument}\n${channel}`;
}
