import type { Effect } from '../watch/effects.js';
import type { WatchEvent } from '../watch/events.js';
import type { WatchPlan } from '../watch/plan.js';
import type { WatchState } from '../watch/state.js';
import { beginWatch, watch } from '../watch/watch.js';
import { EffectCheck, type Mismatch } from './effect-check.js';
import type { RecordingHeader } from './header.js';
import type { RecordingItem } from './parse.js';
import { otherDesignsBands, otherDesignsPlan, type OtherDesign } from './other-design.js';
import { readPieces } from './reader.js';
import { systemWall, type Wall } from '../time/wall.js';

export interface ReplayOptions {
  /** How many times faster than it was; `fast`: as fast as the machine can. */
  readonly speed: number | 'fast';
  /** Judges by this instead of what was predicted then; alarms then differ, and that isn't counted. */
  readonly against?: OtherDesign;
  /** Called once, before any event. */
  readonly onHeader?: (header: RecordingHeader, state: WatchState) => void;
  /** Called after each event with the state and effects that follow from it. */
  readonly onEvent?: (event: WatchEvent, state: WatchState, effects: readonly Effect[]) => void;
  readonly onEffect?: (effect: Effect) => void;
  readonly onProblem?: (problem: Extract<RecordingItem, { kind: 'problem' }>) => void;
  /** An alarm changed otherwise than it did live. After a `damaged` or `lost` line that is to be expected. */
  readonly onMismatch?: (mismatch: Mismatch) => void;
  /** Ends the replay between two events. */
  readonly signal?: AbortSignal;
  readonly wall?: Wall;
}

export interface ReplayResult {
  readonly events: number;
  readonly problems: number;
  readonly mismatches: number;
  /** Whether the session was closed properly. */
  readonly closed: boolean;
  readonly lastAtMs: number;
}

/**
 * Runs a recording through the same core as the live session: the same verdicts and alarms at the same times.
 * @throws {NotARecording} when the file can't be used.
 */
export async function replay(path: string, options: ReplayOptions): Promise<ReplayResult> {
  const run = new ReplayRun(options);
  for await (const { items } of readPieces(path)) {
    for (const item of items) {
      const events = item.kind === 'events' ? item.events : item.kind === 'event' ? [item.event] : NO_EVENTS;
      for (const event of events) {
        if (options.speed !== 'fast') await run.waitFor(event.atMs, options.speed);
        if (options.signal?.aborted === true) return run.result();
        run.event(event, item.line);
      }
      if (item.kind !== 'events' && item.kind !== 'event') run.take(item);
    }
  }
  run.end();
  return run.result();
}

const NO_EVENTS: readonly WatchEvent[] = [];

class ReplayRun {
  readonly #options: ReplayOptions;
  readonly #wall: Wall;
  readonly #check: EffectCheck;
  #state: WatchState | null = null;
  #startMs: number | null = null;
  #counts = { events: 0, problems: 0, mismatches: 0, closed: false, lastAtMs: 0 };

  constructor(options: ReplayOptions) {
    this.#options = options;
    this.#wall = options.wall ?? systemWall;
    this.#check = new EffectCheck((mismatch) => {
      if (options.against !== undefined) return;
      this.#counts.mismatches += 1;
      options.onMismatch?.(mismatch);
    });
  }

  async waitFor(atMs: number, speed: number): Promise<void> {
    this.#startMs ??= this.#wall.nowMs();
    const waitMs = this.#startMs + atMs / speed - this.#wall.nowMs();
    if (waitMs < 1 || this.#options.signal?.aborted === true) return;
    await new Promise<void>((resolve) => {
      const stop = (): void => {
        cancel();
        resolve();
      };
      const cancel = this.#wall.after(waitMs, () => {
        this.#options.signal?.removeEventListener('abort', stop);
        resolve();
      });
      this.#options.signal?.addEventListener('abort', stop, { once: true });
    });
  }

  /** Anything but an event. */
  take(item: Exclude<RecordingItem, { kind: 'event' }>): void {
    switch (item.kind) {
      case 'header':
        this.#state = beginWatch(this.#plan(item.header.plan));
        this.#options.onHeader?.(item.header, this.#state);
        break;
      case 'effect':
        this.#check.recorded(item.effect);
        break;
      case 'problem':
        this.#counts.problems += 1;
        this.#options.onProblem?.(item);
        break;
      case 'end':
        this.#counts.closed = true;
        break;
      case 'next':
        break;
    }
  }

  event(recorded: WatchEvent, line: number): void {
    if (this.#state === null) return;
    const event = this.#judged(recorded);
    const { state, effects } = watch(this.#state, event);
    this.#state = state;
    this.#counts.events += 1;
    this.#counts.lastAtMs = event.atMs;
    this.#check.event(line, event.atMs, effects);
    this.#options.onEvent?.(event, state, effects);
    for (const effect of effects) this.#options.onEffect?.(effect);
  }

  end(): void {
    this.#check.end(!this.#counts.closed);
  }

  result(): ReplayResult {
    return { ...this.#counts };
  }

  /** The same, or what it says by the design that judges now: the old one's bands are none of its business. */
  #judged(event: WatchEvent): WatchEvent {
    const { against } = this.#options;
    return event.kind !== 'expect' || against === undefined ? event : otherDesignsBands(event, against);
  }

  #plan(recorded: WatchPlan): WatchPlan {
    const { against } = this.#options;
    return against === undefined ? recorded : otherDesignsPlan(recorded, against);
  }
}
