import { createHash } from 'node:crypto';
import { readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** What a cache was made from; when any of it is otherwise now, the cache counts for nothing. */
export interface CacheKey {
  /** Name and version of the program: another one may keep other things. */
  readonly software: string;
  readonly files: readonly FileState[];
}

interface FileState {
  readonly name: string;
  readonly bytes: number;
  readonly modifiedMs: number;
  /** Of the file's inode: nobody can set that back. */
  readonly changedMs: number;
}

/** The key of something made from these files as they lie there now. Rejects when one is gone. */
export async function cacheKey(software: string, paths: readonly string[]): Promise<CacheKey> {
  const files = await Promise.all(
    paths.map(async (path) => {
      const { size, mtimeMs, ctimeMs } = await stat(path);
      return { name: basename(path), bytes: size, modifiedMs: mtimeMs, changedMs: ctimeMs };
    }),
  );
  return { software, files };
}

/** Whether the first file stood still between two keys: what was read in between then belongs to the later one. */
export function isSameFirst(before: CacheKey, after: CacheKey): boolean {
  return JSON.stringify(before.files[0]) === JSON.stringify(after.files[0]);
}

/** Where a cache of a recording lies: beside it, hidden, with no name that a listing takes for a recording. */
export function cachePath(recording: string, kind: 'overview' | 'states'): string {
  return join(dirname(recording), `.${basename(recording)}.${kind}`);
}

/**
 * Loads what was saved for the recording as it is now. Null when there is nothing, when it was made from other bytes
 * or by another program, or when it isn't as it was written: then it is to be made anew.
 */
export async function loadCache(path: string, recording: string, software: string): Promise<unknown> {
  try {
    const text = await readFile(path, 'utf8');
    const cut = text.indexOf('\n');
    const { sha256, key } = JSON.parse(text.slice(0, cut)) as { sha256: string; key: CacheKey };
    const folder = dirname(recording);
    const now = await cacheKey(
      software,
      key.files.map(({ name }) => join(folder, basename(name))),
    );
    const isCurrent =
      JSON.stringify(now) === JSON.stringify(key) && key.files[0]?.name === basename(recording);
    const payload = text.slice(cut + 1);
    return isCurrent && digest(payload) === sha256 ? JSON.parse(payload) : null;
  } catch {
    // Whatever is wrong with a cache, the recording itself has everything.
    return null;
  }
}

/** Saves beside the recording; resolves with whether that could be done. A folder that takes nothing is no trouble. */
export async function saveCache(path: string, key: CacheKey, data: unknown): Promise<boolean> {
  const payload = JSON.stringify(data);
  const draft = `${path}.part`;
  try {
    await writeFile(draft, `${JSON.stringify({ sha256: digest(payload), key })}\n${payload}`);
    await rename(draft, path);
    return true;
  } catch {
    await rm(draft, { force: true }).catch(() => undefined);
    return false;
  }
}

function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/** A place in a recording's files as it is reached now: the folder may have been moved since the cache was made. */
export function placeBeside<Place extends { readonly path: string }>(recording: string, place: Place): Place {
  return { ...place, path: join(dirname(recording), basename(place.path)) };
}
