import { existsSync, writeFileSync } from 'node:fs';
import { BadUse } from './command-line.js';

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

/** @throws {BadUse} when the file exists by now, or its folder can't be written to. */
export function writeNew(file: string, text: string): void {
  try {
    writeFileSync(file, text, { flag: 'wx' });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    if (code === 'EEXIST') {
      throw new BadUse(`${file}: stands there already and is never overwritten; name another file`);
    }
    const why = code === 'ENOENT' ? 'there is no such folder' : `it can't be written (${code})`;
    throw new BadUse(`${file}: ${why}; name a file in a folder that you may write to`);
  }
}
