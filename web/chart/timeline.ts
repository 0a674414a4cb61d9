import { formatDuration, formatSessionTime } from '../format.js';
import { panned, spanOf, zoomed, type Span, type Wish } from './span.js';

/** What a person may ask of the time axis by a key or a button. */
export type TimeAction = 'earlier' | 'later' | 'closer' | 'wider' | 'now' | 'start';

const STEP = 0.5;
const ZOOM = 0.5;

/** The time axis that all charts share. Those who look at it are told when it moves. */
export class Timeline {
  #wish: Wish = { lengthMs: 5 * 60_000, endMs: null };
  #nowMs = 0;
  #hasForecast = false;
  readonly #lookers = new Set<() => void>();

  get span(): Span {
    return spanOf(this.#wish, this.#extent());
  }

  get nowMs(): number {
    return this.#nowMs;
  }

  get follows(): boolean {
    return this.#wish.endMs === null;
  }

  /** Of the past, in ms; Infinity for the whole session. */
  get lengthMs(): number {
    return this.#wish.lengthMs;
  }

  /** What is shown, `the last 5 min`. */
  get words(): string {
    const { lengthMs, endMs } = this.#wish;
    if (endMs !== null) {
      return `${formatSessionTime(endMs - lengthMs)} to ${formatSessionTime(endMs)}`;
    }
    if (!Number.isFinite(lengthMs)) return 'the whole session';
    return `the last ${lengthMs === 60_000 ? '1\u00a0min' : formatDuration(lengthMs)}`;
  }

  /** Time went on. Those who look are not told: they draw with the new readings. */
  set(nowMs: number, hasForecast: boolean): void {
    this.#nowMs = nowMs;
    this.#hasForecast = hasForecast;
  }

  /** The last so many milliseconds, Infinity for the whole session. */
  show(lengthMs: number): void {
    this.#become({ lengthMs, endMs: null });
  }

  zoom(factor: number, aroundMs: number): void {
    this.#become(zoomed(this.#wish, factor, aroundMs, this.#extent()));
  }

  pan(byMs: number): void {
    this.#become(panned(this.#wish, byMs, this.#extent()));
  }

  do(action: TimeAction): void {
    const { fromMs, toMs } = this.span;
    const middle = (fromMs + toMs) / 2;
    switch (action) {
      case 'earlier':
        return this.pan(-STEP * (toMs - fromMs));
      case 'later':
        return this.pan(STEP * (toMs - fromMs));
      case 'closer':
        return this.zoom(ZOOM, middle);
      case 'wider':
        return this.zoom(1 / ZOOM, middle);
      case 'now':
        return this.show(this.#wish.lengthMs);
      case 'start':
        return this.pan(-toMs);
    }
  }

  /** Calls `look` after every move; the returned function ends that. */
  onMove(look: () => void): () => void {
    this.#lookers.add(look);
    return () => void this.#lookers.delete(look);
  }

  #extent() {
    return { nowMs: this.#nowMs, hasForecast: this.#hasForecast };
  }

  #become(wish: Wish): void {
    this.#wish = wish;
    for (const look of this.#lookers) look();
  }
}
