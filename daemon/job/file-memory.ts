import { stat } from 'node:fs/promises';

/** What was found out about files, as long as they stay as they were; the longest unused is forgotten first. */
export class FileMemory<Found> {
  readonly #most: number;
  readonly #known = new Map<string, { readonly key: string; readonly found: Found }>();

  constructor(most: number) {
    this.#most = most;
  }

  /** What `find` gives for the file as it lies there now. Rejects when it is gone, and as `find` does. */
  async of(path: string, find: () => Promise<Found>): Promise<Found> {
    const key = await fileKey(path);
    const known = this.#known.get(path);
    this.#known.delete(path);
    const found = known?.key === key ? known.found : await find();
    this.#known.set(path, { key, found });
    for (const oldest of this.#known.keys()) {
      if (this.#known.size <= this.#most) break;
      this.#known.delete(oldest);
    }
    return found;
  }
}

/** Another one when the file was written to, replaced or touched. */
export async function fileKey(path: string): Promise<string> {
  const { size, mtimeMs, ctimeMs, ino } = await stat(path);
  return `${size} ${mtimeMs} ${ctimeMs} ${ino}`;
}
