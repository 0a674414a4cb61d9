import { errorCode } from './disk.js';

const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full; delete something there, the last minutes wait in memory',
  EDQUOT: 'your share of the disk is used up; delete something there, the last minutes wait in memory',
  EACCES: 'writing there is not allowed; change the permissions of the folder',
  EPERM: 'writing there is not allowed; change the permissions of the folder',
  EROFS: 'the disk is read-only; make it writable',
  ENOENT: 'the file or its folder is gone; put the disk or folder back',
  ENOTDIR: 'a part of the path is a file, not a folder; name another folder',
  EIO: 'the disk reports an error; check its cable',
  ENODEV: 'the disk is gone; plug it in again',
  ENXIO: 'the disk is gone; plug it in again',
  EFBIG: 'the file is too large for this disk; start a new session',
  EMFILE: 'too many files are open; end other programs',
  ENFILE: 'too many files are open; end other programs',
};

const UNREADABLE: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  ENOTDIR: 'there is no such file',
  EISDIR: 'that is a folder',
  EACCES: 'you may not read it; change its permissions',
  EPERM: 'you may not read it; change its permissions',
  EIO: 'the disk reports an error; check its cable',
  EMFILE: 'too many files are open; end other programs',
  ENFILE: 'too many files are open; end other programs',
};

/** Why a file or folder can't be read, as part of a sentence that goes on with what to name instead. */
export function unreadableWords(error: unknown): string {
  const code = errorCode(error);
  return UNREADABLE[code] ?? `it can't be read (${code})`;
}

/** Why nothing is being recorded, and the cure, as part of a sentence. `place` is the file or folder. */
export function troubleWords(place: string, error: unknown): string {
  const code = errorCode(error);
  const reason = REASONS[code] ?? `it can't be written (${code})`;
  return `${place}: ${reason}`;
}
