import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';
import { BadUse } from './command-line.js';
import { writeWhole } from './new-file.js';
import { errorCode } from './record/disk.js';
import { AccessKeys, isKey, newKeys } from './serve/keys.js';

const OWNER_ALONE = 0o600;
const OF_OTHERS = 0o077;

/**
 * The keys in a file of two lines, `act KEY` and `look KEY`; made with new keys when it isn't there.
 * @throws {BadUse} when it can't be read or written, holds something else, or others may read it.
 */
export function keysIn(file: string): AccessKeys {
  const text = textIn(file) ?? made(file);
  const keys = /^act (?<act>\S+)\nlook (?<look>\S+)\n?$/.exec(text)?.groups;
  const { act = '', look = '' } = keys ?? {};
  if (!isKey(act) || !isKey(look) || act === look) {
    throw new BadUse(`--key-file ${file}: there are no keys of ours in it; delete it, and new ones are made`);
  }
  return new AccessKeys({ act, look });
}

/** Null when there is no such file. */
function textIn(file: string): string | null {
  let descriptor: number;
  try {
    descriptor = openSync(file, 'r');
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return null;
    throw new BadUse(`--key-file ${file}: it can't be read (${errorCode(error)}); name a file of your own`);
  }
  try {
    if (process.platform !== 'win32' && (fstatSync(descriptor).mode & OF_OTHERS) !== 0) {
      throw new BadUse(`--key-file ${file}: others on this machine may read it; run "chmod 600 ${file}"`);
    }
    return readFileSync(descriptor, 'utf8');
  } finally {
    closeSync(descriptor);
  }
}

function made(file: string): string {
  const keys = newKeys();
  const text = `act ${keys.keyOf('act')}\nlook ${keys.keyOf('look')}\n`;
  try {
    writeWhole(file, text, OWNER_ALONE);
  } catch (error) {
    throw new BadUse(
      `--key-file ${file}: it can't be made (${errorCode(error)}); name a file in a folder of yours`,
    );
  }
  return text;
}
