import { openOverview, type Overview } from '../record/index/overview.js';
import { openStates, type SavedStates } from '../record/index/saved-states.js';
import { openPlayer, type Player } from '../record/player.js';
import type { WatchState } from '../watch/state.js';

/** So many pieces of the session are played ahead one after the other, so that a seek waits for one at most. */
const SLICES = 200;

interface Playing {
  readonly player: Player;
  readonly states: SavedStates;
}

/** A recording that a page looks into: its curves, and the state at any moment. */
export class Opened {
  readonly overview: Overview;
  readonly #path: string;
  readonly #software: string;
  /** Opened at the first look at a moment: whoever only draws doesn't wait for it. */
  #playing: Promise<Playing> | null = null;
  /** What was asked of the player so far; one thing after the other. */
  #last: Promise<unknown> = Promise.resolve();
  #isClosed = false;

  constructor(path: string, software: string, overview: Overview) {
    this.#path = path;
    this.#software = software;
    this.overview = overview;
  }

  /**
   * The state that held at a moment. From the first call on the rest of the session is played ahead and kept beside
   * the recording.
   */
  async stateAt(atMs: number): Promise<WatchState> {
    const isFirst = this.#playing === null;
    const playing = (this.#playing ??= openPlaying(this.#path, this.#software));
    const state = await this.#inTurn(async () => (await playing).player.seek(atMs));
    // A broken file has told its trouble to whoever sought there.
    if (isFirst) this.#playAhead(await playing).catch(() => undefined);
    return state;
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#inTurn(async () => (await this.#playing)?.player.close());
  }

  async #playAhead({ player, states }: Playing): Promise<void> {
    const known = player.checkpoints.length;
    const lastMs = player.checkpoints.at(-1)?.state.nowMs ?? 0;
    const { lengthMs } = this.overview;
    for (let slice = 1; slice <= SLICES && !this.#isClosed; slice += 1) {
      const atMs = (lengthMs * slice) / SLICES;
      if (atMs > lastMs) await this.#inTurn(() => player.seek(atMs));
    }
    if (!this.#isClosed && player.checkpoints.length > known) await states.save(player.checkpoints);
  }

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#last.then(work);
    this.#last = turn.catch(() => undefined);
    return turn;
  }
}

/** @throws {NotARecording} when the file can't be used. */
export async function openRecordingToLook(path: string, software: string): Promise<Opened> {
  return new Opened(path, software, await openOverview(path, software));
}

async function openPlaying(path: string, software: string): Promise<Playing> {
  const player = await openPlayer(path);
  const states = await openStates(path, player.header, software);
  player.takeCheckpoints(states.checkpoints);
  return { player, states };
}
