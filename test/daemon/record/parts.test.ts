import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { replay } from '../../../daemon/record/replay.js';
import { eventsIn, itemsOf, opened, problemsIn } from './open.js';
import { volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

/** A session of 300 readings in files of 4 kB and more. */
async function parted(folder: string) {
  const { recording } = await opened(folder, { partBytes: 4000 });
  const events = Array.from({ length: 300 }, (_, i) => volts(i, 5 + i / 1000));
  for (const [i, event] of events.entries()) {
    recording.append(event);
    if (i % 20 === 19) await recording.flush();
  }
  await recording.close(300);
  return { events, files: (await readdir(folder)).sort() };
}

describe('a session in several files', () => {
  it('reads as one from the first file, each file sealed', async () => {
    const folder = await temporaryFolder();
    const { events, files } = await parted(folder);
    expect(files.slice(0, 2)).toEqual([
      '2026-11-25-0839-signal-cabin-part-2.ndjson',
      '2026-11-25-0839-signal-cabin.ndjson',
    ]);
    const first = join(folder, '2026-11-25-0839-signal-cabin.ndjson');
    const items = await itemsOf(first);
    expect(eventsIn(items)).toEqual(events);
    expect(problemsIn(items)).toEqual([]);
    expect(await replay(first, { speed: 'fast' })).toMatchObject({ events: 300, closed: true, problems: 0 });
    for (const file of files) {
      expect(await readFile(join(folder, file), 'utf8')).toMatch(
        /\n\{"kind":"seal","sha256":"[0-9a-f]{64}"\}\n$/,
      );
    }
  });

  it('a missing part is told by name, and so is one that is read alone', async () => {
    const folder = await temporaryFolder();
    await parted(folder);
    const part = join(folder, '2026-11-25-0839-signal-cabin-part-2.ndjson');
    const alone = (await itemsOf(part)).filter((item) => item.kind === 'problem');
    expect(alone[0]).toMatchObject({
      problem: 'part-missing',
      why: expect.stringMatching(/part 2 of a session/) as string,
    });
    await rm(part);
    const items = await itemsOf(join(folder, '2026-11-25-0839-signal-cabin.ndjson'));
    expect(items.at(-1)).toMatchObject({
      problem: 'part-missing',
      why: expect.stringMatching(
        /goes on in 2026-11-25-0839-signal-cabin-part-2\.ndjson, which is not there/,
      ) as string,
    });
  });

  it('that ends just where a file is full has no empty file behind it', async () => {
    const folder = await temporaryFolder();
    const { recording } = await opened(folder, { partBytes: 4000 });
    for (let atMs = 0; atMs < 300; atMs += 1) recording.append(volts(atMs, 5 + atMs / 1000));
    await recording.close(300);
    expect(await readdir(folder)).toHaveLength(1);
    expect(problemsIn(await itemsOf(recording.file))).toEqual([]);
  });
});
