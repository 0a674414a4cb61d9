import { spawnSync } from 'node:child_process';
import { chmod, mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { manualClock } from '../../manual-clock.js';
import { bundled } from './bundled.js';
import { faultyDisk } from './fake-disk.js';
import { eventsIn, itemsOf, opened, problemsIn } from './open.js';
import { HEADER, volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

describe('a disk that fails', () => {
  it.each([0, 1, 7, 30, 100])(
    'full with %i bytes left: told once with the cure, goes on in a new part, nothing torn',
    async (left) => {
      const disk = faultyDisk();
      const { recording, told } = await opened(await temporaryFolder(), { disk });
      const first = recording.file;
      disk.freeBytes = left;
      for (let i = 0; i < 20; i += 1) recording.append(volts(i, 5 + i / 100));
      expect(await recording.flush()).toBe(false);
      recording.append(volts(20, 6));
      expect(await recording.flush()).toBe(false);
      expect(told).toEqual([
        expect.stringMatching(/signal-cabin\.ndjson: the disk is full; delete something there/),
      ]);
      disk.freeBytes = Infinity;
      expect(await recording.close(21)).toBe(true);
      expect(told.slice(1)).toEqual(['well']);
      expect(recording.file).toMatch(/-part-2\.ndjson$/);
      const items = await itemsOf(first);
      expect(items.find(({ kind }) => kind === 'next')).toMatchObject({
        file: basename(recording.file ?? ''),
      });
      expect(eventsIn(items).map(({ atMs }) => atMs)).toEqual(Array.from({ length: 21 }, (_, i) => i));
      expect(problemsIn(items)).toEqual([]);
    },
  );

  it.each(['EIO', 'ENOSPC', 'EDQUOT'])(
    'a sync that fails with %s: written again from where the file ends',
    async (code) => {
      const disk = faultyDisk();
      const { recording, told } = await opened(await temporaryFolder(), { disk });
      const first = recording.file;
      disk.failSync = code;
      recording.append(volts(1, 5));
      expect(await recording.flush()).toBe(false);
      disk.failSync = null;
      await recording.close(2);
      expect(told).toHaveLength(2);
      const items = await itemsOf(first);
      expect(eventsIn(items)).toEqual([volts(1, 5)]);
      expect(problemsIn(items)).toEqual([]);
    },
  );

  it('a file that does not say how long it is is let go, each time', async () => {
    const disk = faultyDisk();
    const { recording } = await opened(await temporaryFolder(), { disk });
    const reopen = disk.reopen.bind(disk);
    const held = { opened: 0, closed: 0 };
    disk.reopen = async (path) => {
      const file = await reopen(path);
      held.opened += 1;
      const close = (): Promise<void> => ((held.closed += 1), file.close());
      return { ...file, close, size: () => Promise.reject(new Error('EIO')) };
    };
    disk.failSync = 'EIO';
    recording.append(volts(1, 5));
    for (let tried = 0; tried < 4; tried += 1) expect(await recording.flush()).toBe(false);
    expect(held).toEqual({ opened: 3, closed: 3 });
    Object.assign(disk, { reopen, failSync: null });
    expect(await recording.close(2)).toBe(true);
    expect(eventsIn(await itemsOf(recording.file))).toEqual([volts(1, 5)]);
  });

  it('a disk that hangs is told, and writes when it comes back', async () => {
    const disk = faultyDisk();
    const { recording, clock, told } = await opened(await temporaryFolder(), { disk });
    let comeBack = (): void => undefined;
    disk.hang = new Promise((resolve) => (comeBack = resolve));
    recording.append(volts(1, 5));
    const flushed = recording.flush();
    clock.advance(6000);
    expect(told).toEqual([expect.stringContaining('no answer from the disk')]);
    comeBack();
    expect(await flushed).toBe(true);
    expect(told[1]).toBe('well');
    await recording.close(2);
  });

  it('drops the oldest readings when memory is used up, keeps what a person did, and says how much is missing', async () => {
    const disk = faultyDisk();
    const { recording } = await opened(await temporaryFolder(), { disk, queueBytes: 20_000 });
    disk.failWrite = 'EIO';
    await recording.flush();
    recording.append(volts(0, 5));
    recording.append({ kind: 'note', atMs: 1, text: 'lamp limiter in' });
    for (let i = 2; i < 5_000; i += 1) recording.append(volts(i, 5));
    disk.failWrite = null;
    await recording.close(5_000);
    const items = await itemsOf(recording.file);
    const events = eventsIn(items);
    expect(problemsIn(items)).toEqual(['lost']);
    expect(events[0]).toEqual({ kind: 'note', atMs: 1, text: 'lamp limiter in' });
    expect(events.at(-1)).toEqual(volts(4_999, 5));
    const end = items.at(-1);
    expect(end).toMatchObject({ kind: 'end', summary: { readings: 4_999, lost: 5_000 - events.length } });
  });
});

describe('a folder that can not be used', () => {
  it('on a disk that hangs does not hold the session up', async () => {
    const disk = faultyDisk();
    let comeBack = (): void => undefined;
    disk.hang = new Promise((resolve) => (comeBack = resolve));
    const wall = manualClock();
    const opening = opened(await temporaryFolder(), { disk, wall });
    await expect.poll(() => disk.writes).toBe(1);
    wall.advance(5_000);
    const { recording, told } = await opening;
    expect(recording.trouble).toContain('no answer from the disk');
    comeBack();
    expect(await recording.close(1)).toBe(true);
    expect(told).toEqual(['well']);
    expect(problemsIn(await itemsOf(recording.file))).toEqual([]);
  });

  it('a file where the folder should be: told, and recorded from the beginning once that is mended', async () => {
    const place = join(await temporaryFolder(), 'recordings');
    await writeFile(place, 'not a folder');
    const { recording, told } = await opened(place);
    expect(recording.file).toBeNull();
    expect(recording.trouble).toMatch(/recordings: .*(folder|file|EEXIST)/);
    recording.append(volts(1, 5));
    await rm(place);
    expect(await recording.flush()).toBe(true);
    expect(told).toEqual(['well']);
    await recording.close(2);
    expect(eventsIn(await itemsOf(recording.file))).toEqual([volts(1, 5)]);
  });

  it.each(['EACCES', 'EROFS', 'EPERM'])('no permission (%s) is told with the cure', async (code) => {
    const disk = faultyDisk();
    disk.failCreate = code;
    const { recording } = await opened(await temporaryFolder(), { disk });
    expect(recording.trouble).toMatch(/not allowed; change the permissions|read-only; make it writable/);
    disk.failCreate = null;
    expect(await recording.flush()).toBe(true);
    await recording.close(0);
  });

  it('a file deleted during the session is begun anew, saying what is missing', async () => {
    const folder = await temporaryFolder();
    const { recording, told } = await opened(folder);
    for (let i = 0; i < 10; i += 1) recording.append(volts(i, 5));
    await recording.flush();
    await rm(recording.file ?? '');
    recording.append(volts(10, 5));
    expect(await recording.flush()).toBe(false);
    expect(told).toEqual([expect.stringContaining('is gone')]);
    expect(await recording.close(11)).toBe(true);
    const items = await itemsOf(recording.file);
    expect(eventsIn(items)).toEqual([volts(10, 5)]);
    expect(problemsIn(items)).toEqual(['lost']);
  });

  it('a file deleted and another session’s in its place: that one is left alone, and a new one begun', async () => {
    const folder = await temporaryFolder();
    const { recording, told } = await opened(folder);
    for (let i = 0; i < 10; i += 1) recording.append(volts(i, 5));
    await recording.flush();
    const taken = recording.file ?? '';
    await rm(taken);
    const startedAt = HEADER.startedAt.replace(/T08:39:\d\d/, 'T08:39:59');
    expect(startedAt).not.toBe(HEADER.startedAt);
    const other = await opened(folder, { header: { ...HEADER, startedAt } });
    expect(other.recording.file).toBe(taken);
    for (let i = 10; i < 20; i += 1) {
      recording.append(volts(i, 5));
      other.recording.append(volts(i, 12));
      await Promise.all([recording.flush(), other.recording.flush()]);
    }
    expect(told).toEqual([expect.stringContaining('is gone'), 'well']);
    expect(await Promise.all([recording.close(20), other.recording.close(20)])).toEqual([true, true]);
    expect(recording.file).toBe(taken.replace(/\.ndjson$/, '-2.ndjson'));
    const [ours, theirs] = await Promise.all([itemsOf(recording.file), itemsOf(taken)]);
    expect(eventsIn(ours)).toEqual(Array.from({ length: 10 }, (_, i) => volts(10 + i, 5)));
    expect(problemsIn(ours)).toEqual(['lost']);
    expect(eventsIn(theirs)).toEqual(Array.from({ length: 10 }, (_, i) => volts(10 + i, 12)));
    expect(problemsIn(theirs)).toEqual([]);
  });

  it('a folder removed for good: told once, and begun anew when a person makes it again', async () => {
    const folder = join(await temporaryFolder(), 'job');
    const { recording, told } = await opened(folder);
    recording.append(volts(1, 5));
    await recording.flush();
    await rm(folder, { recursive: true });
    for (let atMs = 2; atMs < 5; atMs += 1) {
      recording.append(volts(atMs, 5));
      expect(await recording.flush()).toBe(false);
    }
    expect(told).toEqual([
      expect.stringContaining('the file or its folder is gone; put the disk or folder back'),
    ]);
    await mkdir(folder);
    expect(await recording.close(5)).toBe(true);
    const items = await itemsOf(recording.file);
    expect(eventsIn(items)).toEqual([volts(2, 5), volts(3, 5), volts(4, 5)]);
    expect(problemsIn(items)).toEqual(['lost']);
  });

  it('a folder pulled away with its disk is not made again, and goes on when it is back', async () => {
    const folder = join(await temporaryFolder(), 'stick');
    await mkdir(folder);
    const { recording, told } = await opened(folder);
    recording.append(volts(1, 5));
    await recording.flush();
    await rename(folder, `${folder}-away`);
    recording.append(volts(2, 5));
    expect(await recording.flush()).toBe(false);
    expect(await recording.flush()).toBe(false);
    expect(told).toHaveLength(1);
    await rename(`${folder}-away`, folder);
    expect(await recording.close(3)).toBe(true);
    const items = await itemsOf(recording.file);
    expect(eventsIn(items)).toEqual([volts(1, 5), volts(2, 5)]);
    expect(problemsIn(items)).toEqual([]);
  });
});

describe('a real disk', () => {
  it('that is full: told, every whole line is kept, and the session goes on in a new part after something was deleted', async ({
    skip,
  }) => {
    const folder = await temporaryFolder();
    if (!mountSmallDisk(folder)) skip('mounting a small disk is not allowed here; run as root on Linux');
    await writeFile(join(folder, 'ballast'), Buffer.alloc(64 * 1024));
    const { recording, told } = await opened(folder);
    const first = recording.file;
    const events = Array.from({ length: 10_000 }, (_, i) => volts(i, 5.0625));
    // More than fits beside the ballast.
    for (const event of events) recording.append(event);
    expect(await recording.flush()).toBe(false);
    expect(told).toEqual([
      expect.stringMatching(
        /\.ndjson: the disk is full; delete something there, the last minutes wait in memory$/,
      ),
    ]);
    const early = eventsIn(await itemsOf(first));
    expect(early).toEqual(events.slice(0, early.length));
    const late = Array.from({ length: 500 }, (_, i) => volts(10_000 + i, 5.0625));
    for (const event of late) recording.append(event);
    expect(await recording.flush()).toBe(false);
    await rm(join(folder, 'ballast'));
    expect(await recording.close(10_500)).toBe(true);
    expect(told.slice(1)).toEqual(['well']);
    expect(recording.file).toMatch(/-part-2\.ndjson$/);
    const items = await itemsOf(first);
    expect(eventsIn(items)).toEqual([...events, ...late]);
    expect(problemsIn(items)).toEqual([]);
    const [header] = await itemsOf(recording.file);
    expect(header).toMatchObject({ header: { part: { number: 2, after: basename(first ?? '') } } });
  });

  it('where a user may not write: told with the cure', async () => {
    const folder = await temporaryFolder();
    const script = await bundled('open-once.ts');
    await chmod(folder, 0o555);
    const asNobody = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};
    const child = spawnSync(process.execPath, [script, folder], { encoding: 'utf8', ...asNobody });
    expect(child.stderr).toBe('');
    expect(child.stdout).toMatch(/: writing there is not allowed; change the permissions of the folder$/m);
  });
});

function mountSmallDisk(folder: string): boolean {
  if (process.platform !== 'linux') return false;
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=128k', 'tmpfs', folder]).status === 0;
  if (mounted) onTestFinished(() => void spawnSync('umount', [folder]));
  return mounted;
}
