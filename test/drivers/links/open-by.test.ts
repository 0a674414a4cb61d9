import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, open, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openBy, openByWords } from '../../../drivers/links/open-by.js';

const HOLDS =
  'require("node:fs").openSync(process.argv[1], "a"); console.log("open"); setInterval(() => {}, 1000)';

async function folder(): Promise<string> {
  const made = await mkdtemp(join(tmpdir(), 'railminder-open-by-'));
  onTestFinished(() => rm(made, { recursive: true }));
  return made;
}

// Other systems have no /proc to look it up in (proc(5)).
describe.runIf(process.platform === 'linux')('openBy', () => {
  it('finds the program that has a file open, by any path, until it ends', async () => {
    const file = join(await folder(), 'file');
    const child = spawn(process.execPath, ['-e', HOLDS, file], { stdio: ['ignore', 'pipe', 'inherit'] });
    onTestFinished(() => void child.kill('SIGKILL'));
    await once(child.stdout, 'data');
    await symlink(file, `${file}-link`);
    expect(await openBy(file)).toMatchObject([{ process: child.pid }]);
    expect(await openBy(`${file}-link`)).toMatchObject([{ process: child.pid }]);
    child.kill('SIGKILL');
    await once(child, 'exit');
    expect(await openBy(file)).toEqual([]);
  });

  it('finds nobody for what is not there, and does not count this program itself', async () => {
    const file = join(await folder(), 'file');
    expect(await openBy(file)).toEqual([]);
    const handle = await open(file, 'a');
    onTestFinished(() => handle.close());
    expect(await openBy(file)).toEqual([]);
  });
});

it('names programs by what the system calls them, or by their number alone', () => {
  const named = { process: 1234, name: 'meter-log' };
  expect(openByWords([named])).toBe('meter-log (process 1234)');
  expect(openByWords([named, { process: 1240, name: '' }])).toBe('meter-log (process 1234) and process 1240');
});
