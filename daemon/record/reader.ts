import { createReadStream } from 'node:fs';
import { errorCode } from './disk.js';
import { LineCutter } from './lines.js';
import { NotARecording, RecordingParser, type RecordingItem } from './parse.js';

const CHUNK_BYTES = 256 * 1024;

/**
 * Reads a recording from front to back in constant memory: the header first, then events, effects and problems in
 * order, then the closing line if there is one.
 * @throws {NotARecording} when there is no such file or its first line can't be used. Later damage is a `problem` item.
 */
export async function* readRecording(path: string): AsyncGenerator<RecordingItem, void, void> {
  for await (const items of readBatches(path)) yield* items;
}

/** The same, as many items at a time as one piece of the file holds: for whoever reads fast. */
export function readBatches(path: string): AsyncGenerator<readonly RecordingItem[], void, void> {
  return parseChunks(path, bytesOf(path));
}

/** The same from bytes that come from anywhere. `name`: what messages call them. */
export async function* parseChunks(
  name: string,
  chunks: AsyncIterable<Buffer>,
): AsyncGenerator<readonly RecordingItem[], void, void> {
  const cutter = new LineCutter();
  const parser = new RecordingParser(name);
  for await (const chunk of chunks) {
    const items = cutter.push(chunk).map((line) => parser.push(line));
    yield items.filter((item) => item !== null);
  }
  const rest = cutter.end();
  const last = [rest === null ? null : parser.push(rest), parser.end()];
  yield last.filter((item) => item !== null);
}

async function* bytesOf(path: string): AsyncGenerator<Buffer, void, void> {
  const stream = createReadStream(path, { highWaterMark: CHUNK_BYTES });
  try {
    for await (const chunk of stream) yield chunk as Buffer;
  } catch (error) {
    const code = errorCode(error);
    const why =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'that is a folder'
          : `it can't be read (${code})`;
    throw new NotARecording(`${path}: ${why}; name a recording, *.ndjson.`);
  }
}
