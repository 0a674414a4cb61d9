import type { Effect } from '../watch/effects.js';
import type { WatchEvent } from '../watch/events.js';
import type { WatchState } from '../watch/state.js';
import { beginWatch, watch } from '../watch/watch.js';
import type { RecordingHeader } from './header.js';
import { NotARecording } from './parse.js';
import { readPieces, readPiecesFrom, type RecordingPiece, type RecordingPlace } from './reader.js';
import { systemWall, type Wall } from '../time/wall.js';

/** Played in some milliseconds; the states of a long session stay small beside it. */
const EVENTS_BETWEEN = 10_000;

/** Sees every event that is played with the state and effects that follow from it. */
export type PlayListener = (event: WatchEvent, state: WatchState, effects: readonly Effect[]) => void;

export interface PlayOptions {
  /** How many times faster than it was. */
  readonly speed: number;
  readonly listener: PlayListener;
  /** Pauses between two events; `play` goes on from there. */
  readonly signal: AbortSignal;
}

/** A place in the file and the state that held there, so that a seek needn't begin at the start. */
export interface Checkpoint {
  readonly place: RecordingPlace;
  readonly state: WatchState;
}

/**
 * Opens a recording to be played, paused and sought in.
 * @throws {NotARecording} when the file can't be used.
 */
export async function openPlayer(file: string, wall: Wall = systemWall): Promise<Player> {
  for await (const { items } of readPieces(file)) {
    const first = items[0];
    if (first?.kind === 'header') return new Player(file, first.header, wall);
  }
  throw new NotARecording(`${file}: there is no header in it; name a recording.`);
}

/** A recording as an instrument: the same core, the same effects, at any speed, from any moment. */
export class Player {
  readonly header: RecordingHeader;
  readonly #wall: Wall;
  readonly #begin: WatchState;
  /** In the order of the file; the first is its beginning. */
  readonly #checkpoints: Checkpoint[];
  #state: WatchState;
  #pieces: AsyncGenerator<RecordingPiece, void, void>;
  /** Read already; those from `#at` on are not yet played. */
  #events: readonly WatchEvent[] = [];
  #at = 0;
  /** Events since the last checkpoint. */
  #played = 0;

  constructor(file: string, header: RecordingHeader, wall: Wall) {
    this.header = header;
    this.#wall = wall;
    this.#begin = beginWatch(header.plan);
    this.#state = this.#begin;
    this.#checkpoints = [{ place: { path: file, byte: 0, line: 1, memory: null }, state: this.#begin }];
    this.#pieces = readPieces(file);
  }

  /** The state after everything that was played or skipped. */
  get state(): WatchState {
    return this.#state;
  }

  /** What it has kept so far, without the beginning; for `saved-states` to keep longer. */
  get checkpoints(): readonly Checkpoint[] {
    return this.#checkpoints.slice(1);
  }

  /** Takes what an earlier player of the same file has kept, before anything is played. */
  takeCheckpoints(checkpoints: readonly Checkpoint[]): void {
    this.#checkpoints.push(...checkpoints);
  }

  /** Goes to a moment, forward or back; the state is then that after every event up to it, as if it had been played. */
  async seek(atMs: number): Promise<WatchState> {
    const from = this.#checkpoints.findLast(({ state }) => state === this.#begin || state.nowMs <= atMs);
    const isAhead = from !== undefined && from.state.nowMs > this.#state.nowMs;
    if (from !== undefined && (isAhead || this.#state.nowMs > atMs)) {
      await this.#goTo(from);
    }
    for (let event = await this.#peek(); event !== null && event.atMs <= atMs;) {
      this.#step(event);
      // Only a new piece has to be waited for.
      event = this.#events[this.#at] ?? (await this.#peek());
    }
    return this.#state;
  }

  /** Plays on from here. Resolves with whether the end was reached, or it was paused. */
  async play({ speed, listener, signal }: PlayOptions): Promise<'end' | 'paused'> {
    const startMs = this.#wall.nowMs() - this.#state.nowMs / speed;
    for (;;) {
      const event = this.#events[this.#at] ?? (await this.#peek());
      if (event === null) return 'end';
      await this.#wait(startMs + event.atMs / speed - this.#wall.nowMs(), signal);
      if (signal.aborted) return 'paused';
      const effects = this.#step(event);
      listener(event, this.#state, effects);
    }
  }

  async close(): Promise<void> {
    await this.#pieces.return();
  }

  #step(event: WatchEvent): readonly Effect[] {
    const { state, effects } = watch(this.#state, event);
    this.#state = state;
    this.#at += 1;
    this.#played += 1;
    return effects;
  }

  async #goTo({ place, state }: Checkpoint): Promise<void> {
    await this.#pieces.return();
    this.#state = state;
    this.#events = [];
    this.#at = 0;
    this.#played = 0;
    this.#pieces = place.memory === null ? readPieces(place.path) : readPiecesFrom(place);
  }

  /** The event that comes next, not yet played; null at the end. */
  async #peek(): Promise<WatchEvent | null> {
    while (this.#at >= this.#events.length) {
      const result = await this.#pieces.next();
      if (result.done === true) return null;
      this.#mark(result.value);
      this.#events = eventsOf(result.value);
      this.#at = 0;
    }
    return this.#events[this.#at] ?? null;
  }

  /** Everything before the piece has been played when the next piece is asked for. */
  #mark({ path, byte, line, memory }: RecordingPlace): void {
    const last = this.#checkpoints.at(-1);
    const isNear = this.#played < EVENTS_BETWEEN;
    if (memory === null || last === undefined || isNear || this.#state.nowMs <= last.state.nowMs) return;
    this.#played = 0;
    this.#checkpoints.push({ place: { path, byte, line, memory }, state: this.#state });
  }

  async #wait(waitMs: number, signal: AbortSignal): Promise<void> {
    if (waitMs < 1 || signal.aborted) return;
    await new Promise<void>((resolve) => {
      const done = (): void => {
        cancel();
        signal.removeEventListener('abort', done);
        resolve();
      };
      const cancel = this.#wall.after(waitMs, done);
      signal.addEventListener('abort', done, { once: true });
    });
  }
}

function eventsOf({ items }: RecordingPiece): readonly WatchEvent[] {
  return items.flatMap((item): readonly WatchEvent[] => {
    if (item.kind === 'events') return item.events;
    return item.kind === 'event' ? [item.event] : [];
  });
}
