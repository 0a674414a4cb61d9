import { createWriteStream } from 'node:fs';
import { realpath, rename, rm } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { BadUse } from '../command-line.js';
import { errorCode } from '../record/disk.js';

/**
 * Writes text to a file in place of an older one, or to standard output.
 * @param out where to; null: standard output
 * @param source the recording that it is made from, which is never overwritten
 * @throws {BadUse} when it can't be written.
 */
export async function writeOutput(
  out: string | null,
  chunks: Iterable<string> | AsyncIterable<string>,
  source: string,
): Promise<void> {
  if (out === null) {
    await pipeline(Readable.from(chunks), process.stdout, { end: false }).catch(ignoreClosedPipe);
    return;
  }
  if ((await realpath(out).catch(() => null)) === (await realpath(source).catch(() => source))) {
    throw new BadUse(`-o ${out}: that is the recording itself; name another file`);
  }
  const draft = `${out}.part`;
  try {
    await pipeline(Readable.from(chunks), createWriteStream(draft));
    await rename(draft, out);
  } catch (error) {
    await rm(draft, { force: true });
    if (!(error instanceof Error && 'code' in error)) throw error;
    throw new BadUse(`-o ${out}: it can't be written (${errorCode(error)}); name another file`);
  }
}

/** Whoever reads has had enough, as `head` has. */
function ignoreClosedPipe(error: unknown): void {
  if (errorCode(error) !== 'EPIPE') throw error;
}
