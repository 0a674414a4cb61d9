import { mkdtempSync, rmSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { NotARecording, type RecordingItem } from '../../../daemon/record/parse.js';
import { readRecording } from '../../../daemon/record/reader.js';
import { eventfulEvents, liveSession } from './live-session.js';
import { seeded } from './seeded.js';

interface Read {
  readonly told: boolean;
  readonly events: readonly string[];
}

/** Anything but a recording read, told or not, is an error that the test sees. */
async function read(path: string): Promise<Read> {
  const items: RecordingItem[] = [];
  try {
    for await (const item of readRecording(path)) items.push(item);
  } catch (error) {
    if (!(error instanceof NotARecording)) throw error;
    return { told: true, events: [] };
  }
  const events = items.flatMap((item) => (item.kind === 'event' ? [JSON.stringify(item.event)] : []));
  return { told: items.some(({ kind }) => kind === 'problem'), events };
}

describe('a damaged file', () => {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-faults-'));
  let whole: Buffer;
  let events: readonly string[];

  beforeAll(async () => {
    const live = await liveSession(
      folder,
      eventfulEvents().filter(({ atMs }) => atMs <= 40_000),
    );
    whole = await readFile(live.file);
    events = (await read(live.file)).events;
  });

  afterAll(() => rmSync(folder, { recursive: true }));

  it('cut at any byte of its last 4 KiB: told, and what is read is what was written', async () => {
    const path = join(folder, 'cut.ndjson');
    for (let length = whole.length - 4096; length < whole.length; length += 1) {
      await writeFile(path, whole.subarray(0, length));
      const found = await read(path);
      expect(found.told, `cut to ${length} bytes`).toBe(true);
      expect(found.events).toEqual(events.slice(0, found.events.length));
    }
  });

  it('with one bit flipped, a thousand times: never a crash, always told (seed 2026)', async () => {
    const path = join(folder, 'flipped.ndjson');
    const random = seeded(2026);
    for (let run = 0; run < 1000; run += 1) {
      const bytes = Buffer.from(whole);
      const [place, bit] = [Math.floor(random() * bytes.length), Math.floor(random() * 8)];
      bytes[place] = (bytes[place] ?? 0) ^ (1 << bit);
      await writeFile(path, bytes);
      expect((await read(path)).told, `bit ${bit} of byte ${place}`).toBe(true);
    }
  });

  it('compressed, with one bit flipped or cut, two hundred times each: told (seed 2027)', async () => {
    const path = join(folder, 'packed.ndjson.gz');
    const packed = gzipSync(whole);
    const random = seeded(2027);
    for (let run = 0; run < 200; run += 1) {
      const bytes = Buffer.from(packed);
      // Bytes 4 to 9 of the head say when and where it was packed (RFC 1952, 2.3): nothing of the content.
      const place = 10 + Math.floor(random() * (bytes.length - 10));
      bytes[place] = (bytes[place] ?? 0) ^ (1 << Math.floor(random() * 8));
      await writeFile(path, bytes);
      expect((await read(path)).told, `byte ${place}`).toBe(true);
      await writeFile(path, packed.subarray(0, place));
      expect((await read(path)).told, `cut to ${place} bytes`).toBe(true);
    }
  });
});
