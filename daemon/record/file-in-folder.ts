import { realpath, stat } from 'node:fs/promises';
import { dirname } from 'node:path';

/** Whether a path is a file that really lies in the folder, whatever links are on the way. */
export async function isFileIn(folder: string, path: string): Promise<boolean> {
  try {
    const [home, real] = await Promise.all([realpath(folder), realpath(path)]);
    return dirname(real) === home && (await stat(real)).isFile();
  } catch {
    // Not there, or not for us to see.
    return false;
  }
}
