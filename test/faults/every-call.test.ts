import { spawn, type ChildProcess } from 'node:child_process';
import { on, once } from 'node:events';
import { copyFile, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { expect, it, onTestFinished } from 'vitest';
import { WebSocket } from 'ws';
import { MAIN } from '../daemon/run-command.js';
import { openPtyPair } from '../drivers/pty.js';

const EACH_CALL_ONCE = new URL('each-call-once.mjs', import.meta.url).href;
const EXAMPLE = fileURLToPath(new URL('../../daemon/design/examples/signal-cabin/', import.meta.url));
const RECORDINGS = fileURLToPath(new URL('../../recordings/', import.meta.url));
const LONGEST_MS = 240_000;
const SEALED = /\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/;
/** So many tries at most until something that failed once is well again. */
const TRIES = 12;

/** A session at a table with a line board over TCP, one on a serial port and a USB meter, and hooks. */
async function table(env: NodeJS.ProcessEnv): Promise<{ child: ChildProcess; folder: string }> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-every-call-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  const board = createServer((socket) => {
    const timer = setInterval(() => socket.write('LOGIC 5.01 V\n'), 100);
    socket.on('error', () => undefined).on('close', () => clearInterval(timer));
  });
  await new Promise<void>((resolve) => board.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => void board.close());
  const pty = await openPtyPair(folder, 'serial');
  onTestFinished(() => pty.unplug());
  const timer = setInterval(() => void pty.write('CASE 41.5 C\n'), 100);
  onTestFinished(() => clearInterval(timer));
  await copyFile(join(EXAMPLE, 'signal-cabin.design.yaml'), join(folder, 'cabin.design.yaml'));
  await writeFile(
    join(folder, 'cabin.bench.yaml'),
    `bench: table
instruments:
  rails:
    driver: text-lines
    link: { tcp: '127.0.0.1:${(board.address() as AddressInfo).port}' }
    options: { pattern: 'LOGIC {logic.volts} V', interval_ms: 100 }
  cases:
    driver: text-lines
    link: { serial: ${pty.devicePath} }
    options: { pattern: 'CASE {logic.case} C', interval_ms: 100 }
  meter:
    driver: scpi-meter
    link: { usbtmc: /dev/usbtmc7 }
    channels: { volts: { measures: dc-volts, at: lamps.volts } }
hooks:
  - { priority: low, run: ['true'] }
`,
  );
  const args = ['watch', 'cabin.design.yaml', '--bench', 'cabin.bench.yaml', '--trust-hooks', '--port', '0'];
  const child = spawn(process.execPath, ['--import', EACH_CALL_ONCE, MAIN, ...args], {
    cwd: folder,
    env: { ...process.env, ARMED: join(folder, 'armed'), FAILED: join(folder, 'failed'), ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  return { child, folder };
}

type Step = (page: string) => Promise<void>;

async function got(address: string, init?: RequestInit): Promise<string> {
  const response = await fetch(address, init);
  const body = await response.text();
  if (response.status !== 200) throw new Error(`${address}: ${response.status} ${body}`);
  return body;
}

/** Not done where the answer says why not. */
const posting = (path: string, body: object): Step => {
  const init = {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  };
  return async (page) => {
    const { why = null } = JSON.parse(await got(`${page}${path}`, init)) as { why?: string | null };
    if (why !== null) throw new Error(why);
  };
};
const getting =
  (path: string): Step =>
  async (page) =>
    void (await got(`${page}${path}`));

/** Opens a file of the page's form and saves it as it is. */
const saving =
  (part: 'design' | 'instruments'): Step =>
  async (page) => {
    const { text, file, version } = JSON.parse(await got(`${page}${part}/open`)) as Record<string, unknown>;
    await posting(`${part}/save`, { text, file, version })(page);
  };

const asset: Step = async (page) => {
  const [, path = ''] = /(?:src|href)="\.?\/([^"]+\.js)"/.exec(await got(page)) ?? [];
  await got(`${page}${path}`);
};

const noted: Step = async (page) => {
  const socket = new WebSocket(`${page.replace('http', 'ws')}live`);
  try {
    await once(socket, 'message');
    socket.send(JSON.stringify({ kind: 'note', text: 'the lamps are on' }));
    socket.send(JSON.stringify({ kind: 'snapshot' }));
    for await (const [data] of on(socket, 'message')) if (String(data).includes('"snapshot"')) return;
  } finally {
    socket.terminate();
  }
};

const OLD = 'recording=healthy.ndjson';
/** What a person does at the page, each until it succeeds. */
const AT_THE_PAGE: Readonly<Record<string, Step>> = {
  page: getting(''),
  asset,
  holder: getting('holder'),
  note: noted,
  list: getting('job/list'),
  outcome: getting(`job/outcome?${OLD}`),
  overview: getting(`job/overview?${OLD}`),
  state: getting(`job/state?${OLD}&at=20000`),
  compare: getting('job/compare?before=healthy.ndjson&after=diode-open.ndjson'),
  report: getting(`job/report?${OLD}`),
  csv: getting(`job/csv?${OLD}&form=columns`),
  design: saving('design'),
  instruments: saving('instruments'),
  ports: posting('instruments/ports', {}),
  heard: posting('instruments/heard', { instrument: 'rails' }),
  'list again': getting('job/list'),
};

async function untilDone(name: string, step: Step, page: string): Promise<void> {
  for (let tried = 1; ; tried += 1) {
    try {
      return await step(page);
    } catch (error) {
      if (tried === TRIES) throw new Error(`${name} is not well again`, { cause: error });
      await setTimeout(400);
    }
  }
}

/** What it says, as it comes. */
function listening(child: ChildProcess): {
  readonly said: () => string;
  readonly until: (what: RegExp) => Promise<void>;
} {
  let said = '';
  const heard = new EventTarget();
  for (const stream of [child.stdout, child.stderr]) {
    stream?.on('data', (bytes: Buffer) => {
      said += bytes.toString('utf8');
      heard.dispatchEvent(new Event('said'));
    });
  }
  return {
    said: () => said,
    until: async (what) => {
      while (!what.test(said)) await once(heard, 'said');
    },
  };
}

const failedAt = async (folder: string): Promise<readonly string[]> =>
  (await readFile(join(folder, 'failed'), 'utf8')).trim().split('\n');

function expectInOrder(said: string): void {
  expect(said).not.toMatch(/^ +at |Warning|Something in the program failed/m);
}

/** Places where it must have come by, one of each kind. */
const COME_BY = [
  'connect drivers/links/tcp.js',
  'read drivers/links/hang-up-binding.js',
  'readdir drivers/links/sysfs-ports.js',
  'spawn drivers/links/usbtmc.js',
  'spawn daemon/hooks/run-hook.js',
  'thread daemon/side-thread.js',
  'handle.datasync daemon/record/disk.js',
  'statfs daemon/record/disk.js',
  'socket.write daemon/serve/live.js',
  'socket.write daemon/unread-output.js',
  'createReadStream daemon/record/file-hash.js',
  'rename daemon/record/index/cache-file.js',
  'lstat daemon/job/folder-list.js',
  'rename daemon/desk/yaml-folder.js',
];

it(
  'whatever fails once while it runs, it watches on and everything is well again',
  { timeout: LONGEST_MS },
  async () => {
    const { child, folder } = await table({});
    const exited = once(child, 'exit');
    const { said, until } = listening(child);
    await until(/Ctrl-C ends/);
    for (const name of ['healthy', 'diode-open'])
      await copyFile(join(RECORDINGS, `${name}.ndjson`), join(folder, 'recordings', `${name}.ndjson`));
    const page = /http:\/\/127\.0\.0\.1:\d+\//.exec(said())?.[0] ?? '';
    await writeFile(join(folder, 'armed'), '');
    for (const [name, step] of Object.entries(AT_THE_PAGE)) await untilDone(name, step, page);
    await until(/back within: not-recording/);
    child.kill('SIGTERM');
    expect(await exited).toEqual([0, null]);
    expectInOrder(said());
    expect(await failedAt(folder)).toEqual(expect.arrayContaining(COME_BY));
    expect(await recordingOf(said())).toMatch(SEALED);
  },
);

it('whatever fails once while it ends, it ends in order', { timeout: LONGEST_MS }, async () => {
  const { child, folder } = await table({});
  const exited = once(child, 'exit');
  const { said, until } = listening(child);
  await until(/Ctrl-C ends/);
  await setTimeout(1000);
  await writeFile(join(folder, 'armed'), '');
  child.kill('SIGTERM');
  expect(await exited).toEqual([0, null]);
  expectInOrder(said());
  expect(await failedAt(folder)).toContain('handle.write daemon/record/disk.js');
  // The disk has failed in every way within a second, so its end may be missing.
  expect(await recordingOf(said())).toMatch(/^\{"format":"railminder-recording".*\}\n/);
});

/** Without itself it can't start. */
const OWN_CODE = / daemon\/version\.js$/;

it('whatever fails while it starts, it says what, or goes on', { timeout: LONGEST_MS }, async () => {
  const { child, folder } = await table({ ONLY: 'none', ARMED: '/' });
  const exited = once(child, 'exit');
  await listening(child).until(/Ctrl-C ends/);
  child.kill('SIGTERM');
  await exited;
  const places = (await failedAt(folder)).filter((place) => !OWN_CODE.test(place));
  expect(places).toEqual(expect.arrayContaining(['openSync daemon/files.js', 'mkdir daemon/record/disk.js']));
  const waiting = [...places];
  const bad: object[] = [];
  const startNext = async (): Promise<void> => {
    for (let place = waiting.pop(); place !== undefined; place = waiting.pop()) {
      const ended = await startedWith(place);
      if (/^ +at /m.test(ended.said) || ![0, 2].includes(ended.code ?? -1)) bad.push({ place, ...ended });
    }
  };
  await Promise.all([startNext(), startNext()]);
  expect(bad).toEqual([]);
});

/** A start at which one place fails; ended when it went well all the same. */
async function startedWith(place: string): Promise<{ readonly code: number | null; readonly said: string }> {
  const { child } = await table({ ONLY: place, ARMED: '/' });
  const exited = once(child, 'exit') as Promise<[number | null]>;
  const { said, until } = listening(child);
  void until(/Ctrl-C ends/).then(() => child.kill('SIGTERM'));
  const [code] = await exited;
  return { code, said: said() };
}

async function recordingOf(said: string): Promise<string> {
  return readFile(/^Recording: (.*)\. Ctrl-C/m.exec(said)?.[1] ?? '', 'utf8');
}
