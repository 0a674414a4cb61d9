import type { AlarmEffect } from '../../watch/effects.js';
import type {
  CaptureEvent,
  ExpectEvent,
  NoteEvent,
  ProbeEvent,
  StepEvent,
  WatchEvent,
} from '../../watch/events.js';

/** Something other than a reading, without its picture or its samples. */
export type Happening =
  | AlarmEffect
  | ProbeEvent
  | ExpectEvent
  | StepEvent
  | Omit<NoteEvent, 'photo'>
  | Pick<CaptureEvent, 'kind' | 'atMs' | 'instrument' | 'channel' | 'point'>;

/** More than a person looks through. */
const MOST_KEPT = 2000;

/** Keeps what happened in a session, in bounded memory. */
export class Happenings {
  readonly kept: Happening[] = [];
  leftOut = 0;

  alarm(effect: AlarmEffect): void {
    this.#keep(effect);
  }

  event(event: WatchEvent): void {
    if (event.kind === 'probe' || event.kind === 'expect' || event.kind === 'step') this.#keep(event);
    if (event.kind === 'note') this.#keep({ kind: 'note', atMs: event.atMs, text: event.text });
    if (event.kind !== 'capture') return;
    const { atMs, instrument, channel, point } = event;
    this.#keep({ kind: 'capture', atMs, instrument, channel, point });
  }

  #keep(one: Happening): void {
    if (this.kept.length < MOST_KEPT) this.kept.push(one);
    else this.leftOut += 1;
  }
}
