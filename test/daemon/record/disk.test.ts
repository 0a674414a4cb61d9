import { existsSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { systemDisk } from '../../../daemon/record/disk.js';

const folder = await mkdtemp(join(tmpdir(), 'railminder-disk-'));

afterAll(() => rm(folder, { recursive: true, force: true }));

describe('making a folder', () => {
  it('makes those above it, and is fine when it is there', async () => {
    const deep = join(folder, 'signal', 'cabin', 'recordings');
    await systemDisk.makeFolder(deep);
    await systemDisk.makeFolder(deep);
    expect(existsSync(deep)).toBe(true);
  });

  it('refuses where a file stands', async () => {
    writeFileSync(join(folder, 'file'), '');
    await expect(systemDisk.makeFolder(join(folder, 'file'))).rejects.toMatchObject({ code: 'EEXIST' });
    await expect(systemDisk.makeFolder(join(folder, 'file', 'below'))).rejects.toMatchObject({
      code: 'ENOTDIR',
    });
  });

  it.skipIf(!existsSync('/proc/self'))('ends where the system makes none (Linux: /proc)', async () => {
    await expect(systemDisk.makeFolder('/proc/nowhere/recordings')).rejects.toMatchObject({ code: 'ENOENT' });
  });
});
