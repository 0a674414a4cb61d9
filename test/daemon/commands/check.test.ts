import { createServer } from 'node:http';
import { once } from 'node:events';
import { readdirSync } from 'node:fs';
import { expect, it } from 'vitest';
import { lookAtMachine } from '../../../daemon/machine/look.js';
import { temporaryFolder } from '../record/temporary-folder.js';
import { runCommand } from '../run-command.js';

it('looks this machine over, and leaves nothing behind', async () => {
  const folder = await temporaryFolder();
  const { code, stdout } = await runCommand('check', '--recordings', folder, '--json');
  const findings = JSON.parse(stdout) as { subject: string; state: string }[];
  expect(findings.map(({ subject }) => subject)).toEqual(
    expect.arrayContaining(['node', 'recordings', 'clock', 'page port', 'page', 'voice', 'sleep']),
  );
  expect(findings.find(({ subject }) => subject === 'page')?.state).toBe('fine');
  expect(code).toBe(findings.some(({ state }) => state === 'mend') ? 1 : 0);
  expect(readdirSync(folder)).toEqual([]);
});

it('sees a folder that is not there yet by the one above it, one that cannot be, and a port that is taken', async () => {
  const folder = await temporaryFolder();
  const taken = createServer().listen(0, '127.0.0.1');
  await once(taken, 'listening');
  const address = taken.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const facts = await lookAtMachine(`${folder}/not/yet`, port);
  expect(facts.recordings).toMatchObject({ trouble: null });
  expect(facts.recordings.freeBytes).toBeGreaterThan(0);
  expect(facts.pagePort.trouble).toBe('EADDRINUSE');
  taken.close();
  expect((await lookAtMachine('/proc/nowhere', 0)).recordings.trouble).not.toBeNull();
});
