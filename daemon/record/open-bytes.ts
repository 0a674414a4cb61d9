import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { createGunzip } from 'node:zlib';
import { errorCode } from './disk.js';
import { NotARecording } from './parse.js';
import { unreadableWords } from './trouble.js';

const CHUNK_BYTES = 64 * 1024;
/** RFC 1952, section 2.3.1. */
const GZIP_MAGIC = [0x1f, 0x8b] as const;

/** The compressed data of a file can't be read any further. What came before it is good. */
export class BrokenGzip extends Error {
  override readonly name = 'BrokenGzip';
}

/** Whether a file is compressed, by its first bytes. @throws {NotARecording} when it can't be read. */
export async function isGzip(path: string): Promise<boolean> {
  try {
    const file = await open(path, 'r');
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(2), 0, 2, 0);
      return bytesRead === 2 && buffer[0] === GZIP_MAGIC[0] && buffer[1] === GZIP_MAGIC[1];
    } finally {
      await file.close();
    }
  } catch (error) {
    throw unreadable(path, error);
  }
}

/**
 * The bytes of a recording, unpacked when it is compressed.
 * @param fromByte where to begin in the unpacked bytes; of a compressed file those before are unpacked and dropped
 * @throws {NotARecording} when it can't be read; {BrokenGzip} behind the last good bytes.
 */
export async function* recordingBytes(path: string, fromByte = 0): AsyncGenerator<Buffer, void, void> {
  if (await isGzip(path)) {
    let skipBytes = fromByte;
    for await (const chunk of unpacked(path)) {
      if (skipBytes < chunk.length) yield chunk.subarray(skipBytes);
      skipBytes = Math.max(0, skipBytes - chunk.length);
    }
    return;
  }
  try {
    for await (const chunk of createReadStream(path, { highWaterMark: CHUNK_BYTES, start: fromByte })) {
      yield chunk as Buffer;
    }
  } catch (error) {
    throw unreadable(path, error);
  }
}

async function* unpacked(path: string): AsyncGenerator<Buffer, void, void> {
  const file = createReadStream(path, { highWaterMark: CHUNK_BYTES });
  const gunzip = createGunzip({ chunkSize: CHUNK_BYTES });
  file.on('error', (error) => gunzip.destroy(error));
  file.pipe(gunzip);
  try {
    for await (const chunk of gunzip) yield chunk as Buffer;
  } catch (error) {
    const code = errorCode(error);
    if (code.startsWith('Z_')) throw new BrokenGzip(code, { cause: error });
    throw unreadable(path, error);
  } finally {
    file.destroy();
  }
}

function unreadable(path: string, error: unknown): Error {
  return new NotARecording(`${path}: ${unreadableWords(error)}; name a recording, *.ndjson or *.ndjson.gz.`, {
    cause: error,
  });
}
