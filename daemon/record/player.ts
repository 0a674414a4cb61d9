import type { Effect } from '../watch/effects.js';
import type { WatchEvent } from '../watch/events.js';
import type { WatchState } from '../watch/state.js';
import { beginWatch, watch } from '../watch/watch.js';
import type { RecordingHeader } from './header.js';
import { NotARecording } from './parse.js';
import { readPieces, readPiecesFrom, type RecordingPlace } from './reader.js';
import { systemWall, type Wall } from './wall.js';

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
interface Checkpoint {
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
  #events: AsyncGenerator<WatchEvent, void, void>;
  /** Read already, not yet played. */
  #next: WatchEvent | null = null;

  constructor(file: string, header: RecordingHeader, wall: Wall) {
    this.header = header;
    this.#wall = wall;
    this.#begin = beginWatch(header.plan);
    this.#state = this.#begin;
    this.#checkpoints = [{ place: { path: file, byte: 0, line: 1, memory: null }, state: this.#begin }];
    this.#events = this.#eventsFrom({ path: file, byte: 0, line: 1, memory: null });
  }

  /** The state after everything that was played or skipped. */
  get state(): WatchState {
    return this.#state;
  }

  /** Goes to a moment, forward or back; the state is then that after every event up to it, as if it had been played. */
  async seek(atMs: number): Promise<WatchState> {
    const from = this.#checkpoints.findLast(({ state }) => state === this.#begin || state.nowMs <= atMs);
    const isAhead = from !== undefined && from.state.nowMs > this.#state.nowMs;
    if (from !== undefined && (isAhead || this.#state.nowMs > atMs)) {
      await this.#events.return();
      this.#state = from.state;
      this.#next = null;
      this.#events = this.#eventsFrom(from.place);
    }
    for (let event = await this.#peek(); event !== null && event.atMs <= atMs; event = await this.#peek()) {
      this.#step(event);
    }
    return this.#state;
  }

  /** Plays on from here. Resolves with whether the end was reached, or it was paused. */
  async play({ speed, listener, signal }: PlayOptions): Promise<'end' | 'paused'> {
    const startMs = this.#wall.nowMs() - this.#state.nowMs / speed;
    for (;;) {
      const event = await this.#peek();
      if (event === null) return 'end';
      await this.#wait(startMs + event.atMs / speed - this.#wall.nowMs(), signal);
      if (signal.aborted) return 'paused';
      const effects = this.#step(event);
      listener(event, this.#state, effects);
    }
  }

  async close(): Promise<void> {
    await this.#events.return();
  }

  #step(event: WatchEvent): readonly Effect[] {
    const { state, effects } = watch(this.#state, event);
    this.#state = state;
    this.#next = null;
    return effects;
  }

  async #peek(): Promise<WatchEvent | null> {
    if (this.#next === null) {
      const result = await this.#events.next();
      this.#next = result.done === true ? null : result.value;
    }
    return this.#next;
  }

  async *#eventsFrom(place: RecordingPlace): AsyncGenerator<WatchEvent, void, void> {
    const pieces = place.memory === null ? readPieces(place.path) : readPiecesFrom(place);
    for await (const piece of pieces) {
      this.#mark(piece);
      for (const item of piece.items) if (item.kind === 'event') yield item.event;
    }
  }

  /** Everything before the piece has been played when the next piece is asked for. */
  #mark({ path, byte, line, memory }: RecordingPlace): void {
    const last = this.#checkpoints.at(-1);
    if (memory === null || last === undefined || this.#state.nowMs <= last.state.nowMs) return;
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
