import { closeSync, existsSync, openSync, unlinkSync, writeFileSync } from 'node:fs';
import { BadUse } from './command-line.js';
import { errorCode } from './record/disk.js';

const WHY_NOT: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such folder',
  ENOTDIR: 'there is no such folder',
  ENOSPC: 'the disk is full',
  EDQUOT: 'your share of the disk is used up',
  EROFS: 'the disk is read-only',
};

/** `my supply` is written to `my-supply.design.yaml`. */
export function newFileName(name: string, what: 'design' | 'bench'): string {
  const plain = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60);
  return `${plain === '' ? 'supply' : plain}.${what}.yaml`;
}

/** @throws {BadUse} when the file stands there. */
export function refuseExisting(file: string): void {
  if (existsSync(file))
    throw new BadUse(`${file}: stands there already and is never overwritten; name another file`);
}

/** @throws {BadUse} when the file exists by now, or its folder can't be written to; then nothing is left there. */
export function writeNew(file: string, text: string): void {
  try {
    writeWhole(file, text);
  } catch (error) {
    const code = errorCode(error);
    if (code === 'EEXIST') {
      throw new BadUse(`${file}: stands there already and is never overwritten; name another file`);
    }
    const why = WHY_NOT[code] ?? `it can't be written (${code})`;
    throw new BadUse(`${file}: ${why}; name a file in a folder that you may write to`);
  }
}

/**
 * Writes a file that isn't there, or nothing: a disk that fills up meanwhile leaves no half of it.
 * Throws the system's own error.
 */
export function writeWhole(file: string, text: string, mode = 0o666): void {
  const descriptor = openSync(file, 'wx', mode);
  try {
    writeFileSync(descriptor, text);
  } catch (error) {
    unlinkSync(file);
    throw error;
  } finally {
    closeSync(descriptor);
  }
}
