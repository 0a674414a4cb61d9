import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { MAIN } from '../daemon/run-command.js';
import { failingSession } from './failing-session.js';

const LONGEST_MS = 120_000;

describe('a session whose disk fails', { timeout: LONGEST_MS }, () => {
  it.each([
    ['mkdir', 'recordings', 'EACCES', /recordings: writing there is not allowed; change the permissions/],
    ['open', '.ndjson', 'EROFS', /the disk is read-only; make it writable/],
    ['open', '.ndjson', 'EMFILE', /too many files are open; end other programs/],
    ['handle.write', '.ndjson', 'ENOSPC', /the disk is full; delete something there/],
    ['handle.datasync', '.ndjson', 'EIO', /the disk reports an error; check its cable/],
  ] as const)('%s of %s with %s: says so, watches on, and ends in order', async (call, path, code, words) => {
    const ended = await failingSession({ call, path, code }, words);
    expect(ended.said).toMatch(/Watching "/);
    expect(ended.said).toMatch(words);
    expect(ended.said).toMatch(/Session closed\. Not everything could be recorded/);
    expect(ended.said).not.toMatch(/^ +at /m);
    expect(ended.code).toBe(0);
    for (const text of ended.recordings) expect(text === '' || text.endsWith('\n')).toBe(true);
  });

  it('a page that is not there: it does not start, and says how to make it', async () => {
    const ended = await failingSession({ call: 'readdir', path: 'dist/web', code: 'EACCES' }, /never said/);
    expect(ended.said).toMatch(/the page is not there; run "npm run build"/);
    expect(ended.code).toBe(2);
  });
});

it('a replay whose reader has had enough ends without a complaint', { timeout: LONGEST_MS }, async () => {
  const recording = fileURLToPath(new URL('../../recordings/heatsink-missing.ndjson', import.meta.url));
  const child = spawn(process.execPath, [MAIN, 'replay', recording, '--fast', '--json'], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const exited = once(child, 'exit') as Promise<[number | null, string | null]>;
  let said = '';
  child.stderr.on('data', (bytes: Buffer) => (said += bytes.toString('utf8')));
  child.stdout.once('data', () => child.stdout.destroy());
  expect(await exited).toEqual([0, null]);
  expect(said).not.toMatch(/EPIPE|^ +at /m);
});

it('a reader of its lines that has had enough does not end a session', { timeout: LONGEST_MS }, async () => {
  const child = spawn(process.execPath, [MAIN, 'demo', '--port', '0'], { stdio: ['ignore', 'pipe', 'pipe'] });
  const exited = once(child, 'exit') as Promise<[number | null, string | null]>;
  let said = '';
  child.stderr.on('data', (bytes: Buffer) => (said += bytes.toString('utf8')));
  let file = '';
  for await (const bytes of child.stdout) {
    said += String(bytes);
    file = /Recording: (\S+\.ndjson)/.exec(said)?.[1] ?? file;
    if (file !== '') break; // leaving the loop closes our end of the pipe
  }
  // Alarms are printed, so that by then the pipe has been written to.
  while (child.exitCode === null && !(await readFile(file, 'utf8')).includes('"kind":"alarm"')) {
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  child.kill('SIGTERM');
  expect(await exited).toEqual([0, null]);
  expect(said).not.toMatch(/EPIPE/);
  expect(await readFile(file, 'utf8')).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
});
