import { readdir, readFile, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import { anyEvent } from './arbitrary-event.js';
import { faultyDisk } from './fake-disk.js';
import { eventsIn, itemsOf, opened, problemsIn } from './open.js';
import { HEADER, volts } from './signal-cabin.js';
import { settle } from '../../drivers/links/settle.js';
import { temporaryFolder } from './temporary-folder.js';

describe('what stands in the file', () => {
  it('has the header, a declaration, short readings, other events, effects and a closing line', async () => {
    const { recording } = await opened(await temporaryFolder());
    recording.append({ kind: 'tick', atMs: 0 });
    recording.append(volts(48_210, 12.03));
    recording.append({ ...volts(48_460, 0), value: null, mark: 'overload' } as WatchEvent);
    recording.append({ kind: 'tick', atMs: 48_460 });
    recording.append(volts(48_710, 12));
    expect(await recording.close(50_000)).toBe(true);
    const [header, ...lines] = (await readFile(recording.file ?? '', 'utf8')).split('\n');
    expect(JSON.parse(header ?? '')).toEqual(HEADER);
    // Written by hand after recordings/README.md.
    expect(lines).toEqual([
      '[0]',
      '{"kind":"channel","index":0,"instrument":"meter","channel":"volts","unit":"V"}',
      '[48210,0,12.03,250,0,null,"overload",0,-1,250,0,12]',
      '{"kind":"end","atMs":50000,"summary":{"readings":3,"events":5,"alarms":0,"lost":0}}',
      expect.stringMatching(/^\{"kind":"seal","sha256":"[0-9a-f]{64}"\}$/),
      '',
    ]);
  });

  it('reads back every event as it was (fast-check, seed 20261125)', async () => {
    const folder = await temporaryFolder();
    const property = fc.asyncProperty(fc.array(anyEvent, { maxLength: 60 }), async (events) => {
      const { recording } = await opened(folder);
      for (const event of events) recording.append(event);
      await recording.close(1);
      const items = await itemsOf(recording.file);
      expect(problemsIn(items)).toEqual([]);
      expect(eventsIn(items)).toStrictEqual(events);
      expect(JSON.stringify(eventsIn(items))).toBe(JSON.stringify(events));
    });
    await fc.assert(property, { seed: 20_261_125, numRuns: 60 });
  });

  it('refuses a number that would not read back', async () => {
    const { recording } = await opened(await temporaryFolder());
    expect(() => recording.append(volts(1, NaN))).toThrow(
      /value: found NaN; a recording holds finite numbers only/,
    );
    expect(() => recording.append({ kind: 'tick', atMs: Infinity })).toThrow(/atMs: found Infinity/);
    await recording.close(2);
  });
});

describe('files', () => {
  it('makes the folder, names by local time and subject, and never overwrites', async () => {
    const folder = join(await temporaryFolder(), 'job', 'recordings');
    const first = await opened(folder);
    const second = await opened(folder);
    expect(basename(first.recording.file ?? '')).toBe('2026-11-25-0839-signal-cabin.ndjson');
    expect(basename(second.recording.file ?? '')).toBe('2026-11-25-0839-signal-cabin-2.ndjson');
    await Promise.all([first.recording.close(0), second.recording.close(0)]);
  });

  it('that many sessions begin in the same minute are as many, each whole', async () => {
    const folder = await temporaryFolder();
    const all = await Promise.all(Array.from({ length: 8 }, () => opened(folder)));
    await Promise.all(
      all.map(async ({ recording }, session) => {
        for (let i = 0; i < 20; i += 1) {
          recording.append(volts(i, session));
          await recording.flush();
        }
        expect(await recording.close(20)).toBe(true);
      }),
    );
    expect(new Set(all.map(({ recording }) => recording.file)).size).toBe(8);
    for (const [session, { recording }] of all.entries()) {
      const items = await itemsOf(recording.file);
      expect(problemsIn(items)).toEqual([]);
      expect(eventsIn(items)).toEqual(Array.from({ length: 20 }, (_, i) => volts(i, session)));
    }
  });

  it('leave nothing behind when they are withdrawn', async () => {
    const folder = await temporaryFolder();
    const { recording, clock } = await opened(folder);
    await recording.withdraw();
    recording.append(volts(1, 5));
    clock.advance(5000);
    await settle();
    expect(await readdir(folder)).toEqual([]);
  });

  it('leaves a file alone that has the name already', async () => {
    const folder = await temporaryFolder();
    const taken = join(folder, '2026-11-25-0839-signal-cabin.ndjson');
    await writeFile(taken, 'mine');
    const { recording } = await opened(folder);
    await recording.close(0);
    expect(await readFile(taken, 'utf8')).toBe('mine');
    expect(dirname(recording.file ?? '')).toBe(folder);
  });
});

describe('when it is written', () => {
  it('writes and syncs once for everything since the last time', async () => {
    const disk = faultyDisk();
    const { recording, clock } = await opened(await temporaryFolder(), { disk });
    const before = { writes: disk.writes, syncs: disk.syncs };
    for (let i = 0; i < 500; i += 1) recording.append(volts(i, 5));
    expect(disk.writes).toBe(before.writes);
    clock.advance(1000);
    expect(await recording.flush()).toBe(true);
    expect({ writes: disk.writes - before.writes, syncs: disk.syncs - before.syncs }).toEqual({
      writes: 1,
      syncs: 1,
    });
    expect(eventsIn(await itemsOf(recording.file))).toHaveLength(500);
    await recording.close(500);
  });

  it('keeps writing while time passes, without being asked', async () => {
    const disk = faultyDisk();
    const { recording, clock } = await opened(await temporaryFolder(), { disk });
    const before = disk.syncs;
    for (let second = 1; second <= 3; second += 1) {
      recording.append(volts(second * 1000, 5));
      // What comes while the last block is still on its way to the disk waits for the next time.
      await expect.poll(() => (clock.advance(1000), disk.syncs)).toBeGreaterThanOrEqual(before + second);
    }
    await recording.close(3000);
  });

  it('writes at once on an alarm', async () => {
    const disk = faultyDisk();
    const { recording } = await opened(await temporaryFolder(), { disk });
    const before = disk.syncs;
    recording.append(volts(10, 9));
    recording.appendEffect({
      kind: 'alarm',
      atMs: 10,
      change: 'raised',
      alarm: {
        id: 'instrument-lost:meter',
        cause: { kind: 'instrument-lost', instrument: 'meter', why: 'unplugged' },
        priority: 'medium',
        active: true,
        acknowledged: false,
        latched: false,
        shelvedUntilMs: null,
        suppressedBy: [],
        firstUp: true,
        raisedAtMs: 10,
        returnedAtMs: null,
      },
    });
    await expect.poll(() => disk.syncs).toBe(before + 1);
    const kinds = (await itemsOf(recording.file)).map(({ kind }) => kind);
    expect(kinds).toEqual(['header', 'event', 'effect', 'problem']);
    await recording.close(20);
  });
});
