import { readdir, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import type { RecordingHeader } from './header.js';
import { errorCode } from './disk.js';
import { NotARecording } from './parse.js';
import { readPieces } from './reader.js';
import { Tally, type SessionTally } from './tally.js';
import { unreadableWords } from './trouble.js';

const NAME = /\.ndjson(\.gz)?$/;
/** More files than a person keeps in one folder; the newest are listed. */
const MOST_FILES = 1000;

/** One recording of a folder, as far as its own lines say. */
export interface Listed extends SessionTally {
  readonly file: string;
  /** Of all files of the session. */
  readonly bytes: number;
  readonly header: RecordingHeader;
}

/** A file that has the name of a recording and isn't one. */
export interface NotListed {
  readonly file: string;
  readonly why: string;
}

/**
 * The recordings of a folder by name, read from front to back so that any change since they were closed is found.
 * The later files of a session count with its first.
 * @throws {NotARecording} when the folder can't be read.
 */
export async function* listRecordings(folder: string): AsyncGenerator<Listed | NotListed, void, void> {
  const names = await readdir(folder).catch((error: unknown) => {
    const isMissing = ['ENOENT', 'ENOTDIR'].includes(errorCode(error));
    const why = isMissing ? 'there is no such folder' : unreadableWords(error);
    throw new NotARecording(`${folder}: ${why}; name the one with the recordings.`);
  });
  for (const name of names
    .filter((one) => NAME.test(one))
    .sort()
    .slice(-MOST_FILES)) {
    const listed = await checkRecording(join(folder, name));
    if ('why' in listed || listed.header.part === undefined) yield listed;
  }
}

/** One recording, read from front to back. */
export async function checkRecording(path: string): Promise<Listed | NotListed> {
  const file = basename(path);
  const tally = new Tally();
  const paths = new Set<string>();
  try {
    for await (const piece of readPieces(path)) {
      paths.add(piece.path);
      for (const item of piece.items) tally.take(item);
    }
  } catch (error) {
    if (!(error instanceof NotARecording)) throw error;
    return { file, why: error.message };
  }
  const sizes = await Promise.all([...paths].map((one) => sizeOf(one)));
  // The reader gives a header first or throws.
  const header = tally.header as RecordingHeader;
  return { file, bytes: sizes.reduce((sum, size) => sum + size, 0), header, ...tally.result() };
}

/** 0 for a file that was taken away since it was read. */
async function sizeOf(path: string): Promise<number> {
  return stat(path).then(
    ({ size }) => size,
    () => 0,
  );
}
