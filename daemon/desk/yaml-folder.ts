import { createHash } from 'node:crypto';
import { link, open, readFile, realpath, rename, rm, stat, unlink } from 'node:fs/promises';
import { join } from 'node:path';
import type { SaveRequest, Saved } from '../serve/design-messages.js';

/** Names of files without any folder: no separator, no leading dot, nothing that a system treats as special. */
const FILE_NAMES = {
  design: /^[\p{L}\p{N}][\p{L}\p{N} _.-]{0,100}\.design\.yaml$/u,
  bench: /^[\p{L}\p{N}][\p{L}\p{N} _.-]{0,100}\.bench\.yaml$/u,
} as const;

/** What the files of a folder are. */
export type FileKind = keyof typeof FILE_NAMES;

/**
 * The one folder that designs, or benches, are saved to. Only the file that the program was started with, and those
 * that were saved here since, are ever replaced.
 */
export class YamlFolder {
  readonly folder: string;
  readonly #kind: FileKind;
  readonly #ours: Set<string>;
  /** One after the other, so that two pages never write at once. */
  #last: Promise<unknown> = Promise.resolve();

  /** @param own the name of the file that the program was started with; null for none that may be replaced */
  constructor(kind: FileKind, folder: string, own: string | null) {
    this.#kind = kind;
    this.folder = folder;
    this.#ours = new Set(own === null ? [] : [own]);
  }

  /** The text of a file of this folder and its version. Rejects as reading a file does. */
  async read(file: string): Promise<{ readonly text: string; readonly version: string }> {
    const text = await readFile(join(this.folder, file), 'utf8');
    return { text, version: versionOf(text) };
  }

  /** Writes a text that has been checked. Never leaves half a file, never replaces what it wasn't shown. */
  save(request: SaveRequest): Promise<Saved> {
    const saved = this.#last.then(() => this.#saved(request));
    this.#last = saved.catch(() => undefined);
    return saved;
  }

  async #saved({ file, text, version }: SaveRequest): Promise<Saved> {
    if (!FILE_NAMES[this.#kind].test(file) && !this.#ours.has(file)) {
      return refused(
        `"${file.slice(0, 60)}": a name such as my-supply.${this.#kind}.yaml is allowed, without a folder`,
      );
    }
    try {
      return version === null ? await this.#new(file, text) : await this.#replaced(file, text, version);
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
      return refused(
        `${file}: it can't be written (${code}); is the disk full, or the folder not yours to write to?`,
      );
    }
  }

  async #new(file: string, text: string): Promise<Saved> {
    const target = join(this.folder, file);
    const temporary = await written(target, text);
    try {
      // Unlike a rename, a link never replaces what stands there.
      await link(temporary, target);
    } catch (error) {
      if (!isCode(error, 'EEXIST')) throw error;
      return refused(`${file}: stands there already and isn't replaced; choose another name`);
    } finally {
      await unlink(temporary);
    }
    return this.#done(file, text);
  }

  async #replaced(file: string, text: string, version: string): Promise<Saved> {
    if (!this.#ours.has(file))
      return refused(`${file}: only the ${this.#kind} that was opened is replaced; choose another name`);
    const target = await realpath(join(this.folder, file)).catch((error: unknown) => {
      if (isCode(error, 'ENOENT')) return null;
      throw error;
    });
    if (target === null) return refused(`${file}: is no longer there; choose another name`);
    const temporary = await written(target, text, (await stat(target)).mode);
    try {
      // Looked at last, so that as little time as can be lies between looking and replacing.
      if (versionOf(await readFile(target, 'utf8')) !== version) {
        return refused(
          `${file}: has been changed by another program since it was opened; save under another name, or open it again`,
        );
      }
      await rename(temporary, target);
    } finally {
      await rm(temporary, { force: true });
    }
    return this.#done(file, text);
  }

  #done(file: string, text: string): Saved {
    this.#ours.add(file);
    return { file, version: versionOf(text), why: null };
  }
}

/** Writes and syncs a file beside the target; gives its path. */
async function written(target: string, text: string, mode = 0o644): Promise<string> {
  const temporary = `${target}.${process.pid}.${Date.now()}.part`;
  const handle = await open(temporary, 'wx', mode);
  try {
    await handle.writeFile(text);
    await handle.sync();
  } catch (error) {
    await rm(temporary, { force: true });
    throw error;
  } finally {
    await handle.close();
  }
  return temporary;
}

function versionOf(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

function refused(why: string): Saved {
  return { file: null, version: null, why };
}

function isCode(error: unknown, code: string): boolean {
  return error instanceof Error && 'code' in error && error.code === code;
}
