import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, rmSync } from 'node:fs';
import { afterEach, expect, it, onTestFinished, vi } from 'vitest';
import { AtTerminal } from '../at-terminal.js';
import { MAIN } from './run-command.js';

const UNREAD_OUTPUT = new URL('../../dist/daemon/unread-output.js', import.meta.url).href;
const LONGEST_MS = 30_000;

let terminal: AtTerminal | null = null;
afterEach(() => terminal?.end());

it('a terminal that takes nothing any more stops no session, nor its end', { timeout: 120_000 }, async () => {
  terminal = new AtTerminal(() => [MAIN, 'demo', '--port', '0', '--speed', '100']);
  await terminal.until(/a acknowledge +s put aside/);
  const [, page = ''] = /The page: (http:\S+)/.exec(terminal.raw) ?? [];
  const [, file = ''] = /Recording: (\S+\.ndjson)/.exec(terminal.raw) ?? [];
  onTestFinished(() => rmSync(file, { force: true }));
  terminal.hold();
  // 200 tables of half a kilobyte each second: far more than a pseudo-terminal of Linux keeps (64 KiB at most).
  const from = lastMs(file);
  await vi.waitUntil(() => lastMs(file) - from > 100_000, { timeout: LONGEST_MS, interval: 200 });
  const holder = (await (await fetch(`${page}holder`)).json()) as { process: number };
  process.kill(holder.process, 'SIGTERM');
  await vi.waitUntil(() => !isRunning(holder.process), { timeout: LONGEST_MS });
  expect(readFileSync(file, 'utf8')).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
});

it('what waits for a reader is bounded, and keeps no program from ending', async () => {
  const script = `
    const { goOnUnread, leaveUnread } = await import(process.argv[1]);
    goOnUnread();
    for (let line = 0; line < 30_000; line += 1) console.log('x'.repeat(999));
    process.send(process.stdout.writableLength, () => process.disconnect());
    process.exitCode = 3;
    leaveUnread();
  `;
  const args = ['--input-type=module', '--eval', script, UNREAD_OUTPUT];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] });
  const exited = once(child, 'exit');
  const [waiting] = (await once(child, 'message')) as [number];
  expect(waiting).toBeGreaterThan(1024 * 1024);
  expect(waiting).toBeLessThan(8 * 1024 * 1024);
  expect(await exited).toEqual([3, null]);
});

function lastMs(file: string): number {
  const times = readFileSync(file, 'utf8').matchAll(/"atMs":(\d+)/g);
  return Math.max(0, ...[...times].map(([, ms]) => Number(ms)));
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}
