import type { WatchState } from '../../watch/state.js';
import type { Checkpoint } from '../player.js';
import type { RecordingHeader } from '../header.js';
import { cacheKey, cachePath, isSameFirst, loadCache, placeBeside, saveCache } from './cache-file.js';

/** The plan stands in the recording's header and is the same in every state. */
type SavedState = Omit<WatchState, 'plan'>;

interface Saved {
  readonly checkpoints: readonly { readonly place: Checkpoint['place']; readonly state: SavedState }[];
}

/** States that an earlier player kept beside the recording, and the way to keep more. */
export interface SavedStates {
  /** None when there is nothing, or it isn't current. */
  readonly checkpoints: readonly Checkpoint[];
  /** Resolves with whether that could be done: not when the recording has changed since. */
  save(checkpoints: readonly Checkpoint[]): Promise<boolean>;
}

/** Opens the states beside a recording, before it is played. */
export async function openStates(
  file: string,
  { plan }: RecordingHeader,
  software: string,
): Promise<SavedStates> {
  const cache = cachePath(file, 'states');
  const before = await cacheKey(software, [file]);
  const saved = (await loadCache(cache, file, software)) as Saved | null;
  return {
    checkpoints: (saved?.checkpoints ?? []).map(({ place, state }) => ({
      place: placeBeside(file, place),
      state: { ...state, plan },
    })),
    async save(checkpoints) {
      const paths = new Set([file, ...checkpoints.map(({ place }) => place.path)]);
      const key = await cacheKey(software, [...paths]);
      if (!isSameFirst(before, key)) return false;
      // JSON leaves out what is undefined.
      const slim = checkpoints.map(({ place, state }) => ({ place, state: { ...state, plan: undefined } }));
      return saveCache(cache, key, { checkpoints: slim });
    },
  };
}
