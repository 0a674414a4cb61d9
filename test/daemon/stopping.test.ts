import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { expect, it } from 'vitest';
import { MAIN } from './run-command.js';

it.each(['SIGTERM', 'SIGINT'] as const)('%s ends a session with its recording complete', async (signal) => {
  const child = spawn(process.execPath, [MAIN, 'demo', '--port', '0'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const exited = once(child, 'exit');
  let file = '';
  for await (const line of createInterface({ input: child.stdout })) {
    file = /^Recording: (?<file>.*)\. Ctrl-C/.exec(line)?.groups?.['file'] ?? file;
    if (line.includes('ALARM')) child.kill(signal);
    if (line.startsWith('Session closed.')) expect(line).toBe(`Session closed. Recording: ${file}`);
  }
  expect(await exited).toEqual([0, null]);
  expect(readFileSync(file, 'utf8')).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
});
