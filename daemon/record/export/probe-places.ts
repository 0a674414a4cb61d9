import type { ProbeEvent, ReadingEvent } from '../../watch/events.js';

/** Which test point each channel's probe sits on, while a recording goes by. */
export class ProbePlaces {
  readonly #places = new Map<string, string>();

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
