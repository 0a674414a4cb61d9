import { execFile } from 'node:child_process';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { USUAL_PORT } from '../../daemon/serve/port.js';
import { temporaryFolder } from '../daemon/record/temporary-folder.js';
import { MAIN } from '../daemon/run-command.js';
import { FAILING_SYSTEM, type Failing } from './failing.js';

const LONGEST_MS = 60_000;

async function checked(...failing: readonly Failing[]): Promise<{ code: number; said: string }> {
  const folder = await temporaryFolder();
  const args = ['--import', FAILING_SYSTEM, MAIN, 'check', '--recordings', join(folder, 'recordings')];
  const env = { ...process.env, FAILING: JSON.stringify(failing) };
  return new Promise((resolve) => {
    execFile(process.execPath, args, { env }, (error, stdout, stderr) =>
      resolve({ code: error === null ? 0 : Number(error.code), said: stdout + stderr }),
    );
  });
}

describe('check, on a machine', { timeout: LONGEST_MS }, () => {
  it('whose port may not be used: names it, the user and the right to give', async () => {
    const { code, said } = await checked(
      { call: 'readdir', path: '/sys/class/tty', answer: ['ttyUSB0'] },
      { call: 'access', path: '/dev/ttyUSB0', code: 'EACCES' },
    );
    expect(said).toMatch(
      /^mend {2}\/dev\/ttyUSB0: \S+ may not read and write it\n +(Run sudo usermod|Write SUBSYSTEM=="tty")/m,
    );
    expect(code).toBe(1);
  });

  it('whose disk is nearly full: says for how long it lasts', async () => {
    // 3,456,000 bytes an hour by hand (80 readings a second of 12 bytes): 40 MB last 11 hours.
    const answer = { bavail: 40_000, bsize: 1000 };
    const { code, said } = await checked({ call: 'statfs', path: '/', answer });
    expect(said).toMatch(/^mend {2}recordings: .*only 0\.0 GB free, 11 hours .*\n +Delete something there/m);
    expect(code).toBe(1);
  });

  it('whose port for the page is taken: says so, and that the next one is tried', async () => {
    const holder = createServer().on('error', () => undefined); // another one has it already: as good
    await new Promise<void>((resolve) =>
      holder.on('error', () => resolve()).listen(USUAL_PORT, '127.0.0.1', resolve),
    );
    onTestFinished(() => void holder.close());
    const { code, said } = await checked({ call: 'none' });
    expect(said).toMatch(
      /^mend {2}page port: port 8610 is in use, .*\n +The next free one is taken by itself/m,
    );
    expect(code).toBe(1);
  });

  it('whose clock was never set: says what it shows, and why that matters', async () => {
    const { code, said } = await checked({ call: 'date', answer: 600_000 });
    expect(said).toMatch(/^mend {2}clock: it says 1970-01-01T00:10:00\.000Z\n +Set the date and time/m);
    expect(code).toBe(1);
  });

  it('without speech: it can’t know that, and says where to try it', async () => {
    const { said } = await checked({ call: 'none' });
    expect(said).toMatch(
      /^look {2}voice: .*browser.*\n +Open the page there and press the test of sound and voice/m,
    );
  });
});
