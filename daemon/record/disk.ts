import { constants, type BigIntStats } from 'node:fs';
import { access, mkdir, open, rm, stat, statfs, type FileHandle } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';

/** What a recording needs of a disk. Every method rejects with the system's own error (`code` set). */
export interface Disk {
  /** Makes the folder and those above it; fine if it is there. */
  makeFolder(folder: string): Promise<void>;
  /** Makes a new file to append to. Rejects with EEXIST rather than touch one that is there. */
  create(path: string): Promise<OpenFile>;
  /** Opens a file that is there, to append to. */
  reopen(path: string): Promise<OpenFile>;
  exists(path: string): Promise<boolean>;
  /** The first bytes of a file, fewer where it is shorter. */
  head(path: string, length: number): Promise<Uint8Array>;
  /** Takes a file away; fine if it is gone. */
  remove(path: string): Promise<void>;
  /** How many bytes still fit where this folder lies. */
  roomBytes(folder: string): Promise<number>;
}

/** A file that only grows. */
export interface OpenFile {
  /** Appends bytes from the front of `bytes`; resolves with how many, perhaps fewer than given. */
  write(bytes: Uint8Array): Promise<number>;
  /** Resolves when everything written is on the disk. */
  sync(): Promise<void>;
  size(): Promise<number>;
  /** Whether the path still leads to this file: it may be gone, or another one there. */
  isAt(path: string): Promise<boolean>;
  close(): Promise<void>;
}

export const systemDisk: Disk = {
  makeFolder: (folder) => makeFolder(resolve(folder)),
  async create(path) {
    const flags = constants.O_WRONLY | constants.O_APPEND | constants.O_CREAT | constants.O_EXCL;
    const handle = await open(path, flags, 0o644);
    try {
      await syncFolder(dirname(path));
    } catch (error) {
      await handle.close();
      throw error;
    }
    return openFile(handle);
  },
  async reopen(path) {
    return openFile(await open(path, constants.O_WRONLY | constants.O_APPEND));
  },
  async exists(path) {
    try {
      await access(path);
      return true;
    } catch (error) {
      if (errorCode(error) === 'ENOENT') return false;
      throw error;
    }
  },
  async head(path, length) {
    const handle = await open(path, 'r');
    try {
      const { buffer, bytesRead } = await handle.read(new Uint8Array(length), 0, length, 0);
      return buffer.subarray(0, bytesRead);
    } finally {
      await handle.close();
    }
  },
  remove: (path) => rm(path, { force: true }),
  async roomBytes(folder) {
    const { bavail, bsize } = await statfs(folder);
    return bavail * bsize;
  },
};

/** Node's own recursive mkdir never ends below a folder that answers ENOENT itself, as those under /proc do. */
async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder);
  } catch (error) {
    const code = errorCode(error);
    if (code === 'EEXIST' && (await stat(folder)).isDirectory()) return;
    if (code !== 'ENOENT' || dirname(folder) === folder) throw error;
    await makeFolder(dirname(folder));
    await mkdir(folder);
  }
}

/** The system's word for what went wrong, `ENOSPC`; the message where there is none. */
export function errorCode(error: unknown): string {
  if (error instanceof Error && 'code' in error && typeof error.code === 'string') return error.code;
  return error instanceof Error ? error.message : String(error);
}

function openFile(handle: FileHandle): OpenFile {
  return {
    write: async (bytes) => (await handle.write(bytes)).bytesWritten,
    sync: () => handle.datasync(),
    size: async () => (await handle.stat()).size,
    async isAt(path) {
      const [there, open] = await Promise.all([statOrNull(path), handle.stat({ bigint: true })]);
      return there?.ino === open.ino && there.dev === open.dev;
    },
    close: () => handle.close(),
  };
}

async function statOrNull(path: string): Promise<BigIntStats | null> {
  try {
    return await stat(path, { bigint: true });
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return null;
    throw error;
  }
}

/** A new file's name is safe only when its folder is synced too. Some systems can't open a folder: then it isn't needed. */
async function syncFolder(folder: string): Promise<void> {
  let handle: FileHandle | undefined;
  try {
    handle = await open(folder, 'r');
    await handle.sync();
  } catch (error) {
    if (!['EISDIR', 'EPERM', 'EACCES', 'EINVAL'].includes(errorCode(error))) throw error;
  } finally {
    await handle?.close();
  }
}
