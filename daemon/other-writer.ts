import { basename, dirname, join } from 'node:path';
import { openBy, openByWords } from '../drivers/links/open-by.js';
import { recordingFileName } from './record/file-name.js';
import { isoWithOffset } from './record/header.js';

/** More sessions don't begin within a minute. */
const MOST_LOOKED_AT = 10;

/**
 * Who still has a recording open whose name a session that begins now would have had, for a person; null: nobody.
 * @param file the session's own recording
 * @param name what the session is about
 */
export async function otherWriterLine(file: string, name: string, start: Date): Promise<string | null> {
  const startedAt = isoWithOffset(start, -start.getTimezoneOffset());
  for (let attempt = 1; attempt < MOST_LOOKED_AT; attempt += 1) {
    const taken = recordingFileName(startedAt, name, attempt);
    if (taken === basename(file)) return null;
    const holders = await openBy(join(dirname(file), taken));
    if (holders.length > 0)
      return `${taken} is held by another session, ${openByWords(holders)}; this one writes a file of its own.`;
  }
  return null;
}
