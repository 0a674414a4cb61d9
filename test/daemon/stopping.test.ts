import { spawn, type ChildProcessByStdio } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { expect, it, onTestFinished, vi } from 'vitest';
import { busySession } from './busy-session.js';
import { MAIN, runCommand } from './run-command.js';

const PACKAGE = fileURLToPath(new URL('../..', import.meta.url));
/** Asks a session to end when it has said something; a third signal would cut it short. */
function endOnce(child: ChildProcessByStdio<null | Writable, Readable, Readable>, when: string): void {
  let said = '';
  child.stdout.on('data', function end(bytes: Buffer) {
    said += String(bytes);
    if (!said.includes(when)) return;
    child.stdout.off('data', end).resume();
    child.kill('SIGTERM');
  });
}

const CABIN = join(PACKAGE, 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml');

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

it.each([
  ['watch', 'A line with ?'],
  ['powerup', 'What stands on the primary fuse'],
])('SIGTERM ends a %s to which nobody can type', { timeout: 120_000 }, async (command, first) => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-untyped-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const args = [MAIN, command, CABIN, '--recordings', folder, '--port', '0'];
  // As a service has it: standard input is /dev/null.
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
  const exited = once(child, 'exit');
  let complained = '';
  child.stderr.on('data', (bytes: Buffer) => (complained += String(bytes)));
  endOnce(child, first);
  const [code] = (await exited) as [number | null];
  expect({ code, complained }).toEqual({ code: command === 'watch' ? 0 : 1, complained: '' });
  const [file = ''] = readdirSync(folder);
  expect(readFileSync(join(folder, file), 'utf8')).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
});

it.each([
  ['end', 'process.stdin.pause = () => { throw new Error("broken terminal") };'],
  ['start', 'process.stdin.on = () => { throw new Error("broken terminal") };'],
])('a defect at its %s ends it in order', { timeout: 120_000 }, async (_, breaks) => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-defect-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  // Something that stays open, and a terminal that breaks.
  const broken = `setInterval(() => {}, 1e6); ${breaks}`;
  const args = ['--import', `data:text/javascript,${encodeURIComponent(broken)}`, MAIN];
  const child = spawn(process.execPath, [...args, 'watch', CABIN, '--recordings', folder, '--port', '0'], {
    stdio: 'pipe',
  });
  const exited = once(child, 'exit');
  let complained = '';
  child.stderr.on('data', (bytes: Buffer) => (complained += String(bytes)));
  endOnce(child, 'A line with ?');
  expect(await exited).toEqual([70, null]);
  expect(complained).toContain('broken terminal');
  const [file = ''] = readdirSync(folder);
  expect(readFileSync(join(folder, file), 'utf8')).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
});

it.each(['SIGTERM', 'SIGINT'] as const)(
  '%s ends it in order with pages looking on, instruments that hang and threads at work',
  { timeout: 120_000 },
  async (signal) => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-stopping-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const session = await busySession(folder, PACKAGE);
    onTestFinished(() => session.tidy());
    const exited = once(session.child, 'exit');
    session.child.kill(signal);
    expect(await exited).toEqual([0, null]);
    expect(await session.recording()).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
  },
);

it('a hook that hangs keeps it no longer than a moment', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-hanging-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const [bench, begun] = [join(folder, 'table.bench.yaml'), join(folder, 'begun')];
  // Nobody listens at port 1, so that its instrument is told as lost.
  writeFileSync(
    bench,
    `bench: table
instruments:
  rails: { driver: text-lines, link: { tcp: '127.0.0.1:1' }, options: { pattern: 'LOGIC {logic.volts} V' } }
hooks:
  - { priority: low, run: [sh, -c, 'touch ${begun}; sleep 60'], timeout_s: 60 }
`,
  );
  const args = [
    MAIN,
    'watch',
    CABIN,
    '--bench',
    bench,
    '--trust-hooks',
    '--recordings',
    folder,
    '--port',
    '0',
  ];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const exited = once(child, 'exit');
  await vi.waitUntil(() => existsSync(begun), { timeout: 20_000 });
  child.kill('SIGTERM');
  expect(await exited).toEqual([0, null]);
});

it('a signal that comes while it starts ends it in order too', { timeout: 120_000 }, async () => {
  const child = spawn(process.execPath, [MAIN, 'demo', '--port', '0'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const exited = once(child, 'exit');
  let said = '';
  for await (const bytes of child.stdout) {
    // The very first word: the page is up, the session hasn't begun.
    if (said === '') child.kill('SIGTERM');
    said += String(bytes);
  }
  expect(await exited).toEqual([0, null]);
  const file = /Session closed\. Recording: (.*)/.exec(said)?.[1] ?? '';
  expect(readFileSync(file, 'utf8')).toMatch(/\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/);
});

it(
  'a second one on the same port says who holds it, and leaves the first alone',
  { timeout: 120_000 },
  async () => {
    const first = spawn(process.execPath, [MAIN, 'demo', '--port', '0'], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    onTestFinished(() => void first.kill('SIGTERM'));
    let said = '';
    for await (const bytes of first.stdout) {
      said += String(bytes);
      if (said.includes('Ctrl-C')) break;
    }
    const port = /127\.0\.0\.1:(\d+)/.exec(said)?.[1] ?? '';
    const { code, stderr } = await runCommand('demo', '--port', port);
    expect(code).toBe(2);
    expect(stderr).toContain(`port ${port} on 127.0.0.1 is in use by a session that watches "signal cabin"`);
    expect(stderr).toContain(`(process ${first.pid}); stop that one, or name another port with --port`);
    expect(first.exitCode).toBeNull();
  },
);

it.runIf(process.platform === 'linux')(
  'a second one that would have the same recording says who holds it, and writes its own',
  { timeout: 120_000 },
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-two-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const begun: { readonly pid: number | undefined; readonly said: string }[] = [];
    // A minute may end between the first two, and names go by the minute.
    while (begun.length < 3 && !/-2\.ndjson/.test(begun.at(-1)?.said ?? '')) {
      const child = spawn(process.execPath, [MAIN, 'watch', CABIN, '--recordings', folder, '--port', '0'], {
        stdio: ['pipe', 'pipe', 'inherit'],
      });
      onTestFinished(() => void child.kill('SIGTERM'));
      let said = '';
      for await (const bytes of child.stdout) {
        said += String(bytes);
        if (said.includes('A line with ?')) break;
      }
      begun.push({ pid: child.pid, said });
    }
    const [first, second] = begun.slice(-2);
    expect(second?.said).toMatch(/Recording: \S+-signal-cabin-2\.ndjson/);
    expect(second?.said).toMatch(
      new RegExp(`-signal-cabin\\.ndjson is held by another session, .*\\(process ${first?.pid}\\)`),
    );
    expect(first?.said).not.toContain('held by');
  },
);

it(
  'a start that is refused because its port is taken leaves no recording',
  { timeout: 120_000 },
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-refused-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const holder = createServer();
    await new Promise<void>((resolve) => holder.listen(0, '127.0.0.1', resolve));
    onTestFinished(() => void holder.close());
    const { port } = holder.address() as AddressInfo;
    const recordings = join(folder, 'recordings');
    const { code, stderr } = await runCommand(
      ...['watch', CABIN, '--recordings', recordings, '--port', String(port)],
    );
    expect(code).toBe(2);
    expect(stderr).toMatch(/is in use by another program/);
    expect(readdirSync(recordings)).toEqual([]);
  },
);

it('keys stand in the links that it prints and nowhere else', { timeout: 120_000 }, async () => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-keys-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const args = [
    'demo',
    '--port',
    '0',
    '--open-to-network',
    '--address',
    '127.0.0.1',
    '--key-file',
    join(folder, 'keys'),
  ];
  const child = spawn(process.execPath, [MAIN, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  const exited = once(child, 'exit');
  let complaints = '';
  child.stderr.on('data', (bytes: Buffer) => (complaints += bytes.toString('utf8')));
  let said = '';
  for await (const bytes of child.stdout) {
    said += String(bytes);
    if (said.includes('Ctrl-C')) child.kill('SIGTERM');
  }
  await exited;
  const keys = readFileSync(join(folder, 'keys'), 'utf8').match(/[\w-]{24}/g) ?? [];
  expect(keys).toHaveLength(2);
  const file = /Session closed\. Recording: (.*)/.exec(said)?.[1] ?? '';
  const elsewhere = complaints + readFileSync(file, 'utf8') + said.replace(/\/enter\/[\w-]{24}/g, '');
  for (const key of keys) expect(elsewhere).not.toContain(key);
});
