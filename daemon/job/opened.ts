import { openOverview, type Overview } from '../record/index/overview.js';
import { openStates, type SavedStates } from '../record/index/saved-states.js';
import { openPlayer, type Player } from '../record/player.js';
import type { WatchState } from '../watch/state.js';

/** So many pieces of the session are played ahead one after the other, so that a seek waits for one at most. */
const SLICES = 200;

/** A recording that a page looks into: its curves, and the state at any moment. */
export class Opened {
  readonly overview: Overview;
  readonly #player: Player;
  readonly #states: SavedStates;
  /** What was asked of the player so far; one thing after the other. */
  #last: Promise<unknown> = Promise.resolve();
  #isClosed = false;
  #isAhead = false;

  constructor(overview: Overview, player: Player, states: SavedStates) {
    this.overview = overview;
    this.#player = player;
    this.#states = states;
  }

  /**
   * The state that held at a moment. From the first call on the rest of the session is played ahead and kept beside
   * the recording.
   */
  async stateAt(atMs: number): Promise<WatchState> {
    const state = await this.#inTurn(() => this.#player.seek(atMs));
    if (!this.#isAhead) {
      this.#isAhead = true;
      // A broken file has told its trouble to whoever sought there.
      this.#playAhead().catch(() => undefined);
    }
    return state;
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#inTurn(() => this.#player.close());
  }

  async #playAhead(): Promise<void> {
    const known = this.#player.checkpoints.length;
    const lastMs = this.#player.checkpoints.at(-1)?.state.nowMs ?? 0;
    const { lengthMs } = this.overview;
    for (let slice = 1; slice <= SLICES && !this.#isClosed; slice += 1) {
      const atMs = (lengthMs * slice) / SLICES;
      if (atMs > lastMs) await this.#inTurn(() => this.#player.seek(atMs));
    }
    if (!this.#isClosed && this.#player.checkpoints.length > known) {
      await this.#states.save(this.#player.checkpoints);
    }
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#last.then(work);
    this.#last = turn.catch(() => undefined);
    return turn;
  }
}

/** @throws {NotARecording} when the file can't be used. */
export async function openRecordingToLook(path: string, software: string): Promise<Opened> {
  const overview = await openOverview(path, software);
  const player = await openPlayer(path);
  const states = await openStates(path, player.header, software);
  player.takeCheckpoints(states.checkpoints);
  return new Opened(overview, player, states);
}
