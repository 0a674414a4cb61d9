import { isRecorded, type Effect, type RecordedEffect } from '../watch/effects.js';

/** An event after which what alarms and cut-offs do now differs from those that were recorded. */
export interface Mismatch {
  /** The line of the event. */
  readonly line: number;
  readonly atMs: number;
  readonly recorded: readonly string[];
  readonly now: readonly string[];
}

/** Compares what alarms and cut-offs did, event by event, to the byte of their JSON. */
export class EffectCheck {
  readonly #onMismatch: (mismatch: Mismatch) => void;
  #line = 0;
  #atMs = 0;
  #now: string[] = [];
  #recorded: string[] = [];

  constructor(onMismatch: (mismatch: Mismatch) => void) {
    this.#onMismatch = onMismatch;
  }

  /** An event with the effects that it has now. */
  event(line: number, atMs: number, effects: readonly Effect[]): void {
    if (this.#now.length > 0 || this.#recorded.length > 0) this.#compare();
    this.#line = line;
    this.#atMs = atMs;
    for (const effect of effects) if (isRecorded(effect)) this.#now.push(JSON.stringify(effect));
  }

  /** An effect that was recorded after that event. */
  recorded(effect: RecordedEffect): void {
    this.#recorded.push(JSON.stringify(effect));
  }

  /** @param torn the file ends without its closing line, so the newest effects may be missing from it. */
  end(torn: boolean): void {
    if (torn) this.#now = this.#now.slice(0, this.#recorded.length);
    this.#compare();
  }

  #compare(): void {
    const same =
      this.#now.length === this.#recorded.length && this.#now.every((text, i) => text === this.#recorded[i]);
    if (!same) {
      this.#onMismatch({ line: this.#line, atMs: this.#atMs, recorded: this.#recorded, now: this.#now });
    }
    this.#now = [];
    this.#recorded = [];
  }
}
