import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type AddressInfo, type Server, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { WebSocket } from 'ws';
import { whoseStray } from '../../daemon/stray-problems.js';
import { MAIN } from './run-command.js';

const DESIGN = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);
const BOARD = fileURLToPath(new URL('./children/stray-board.mjs', import.meta.url));
const PATIENCE = { timeout: 60_000 };

/** A device on a TCP port: what it was told, and a way to speak. */
async function device(answer: (line: string) => string | null) {
  const heard: string[] = [];
  const sockets: Socket[] = [];
  const server: Server = createServer((socket) => {
    sockets.push(socket);
    socket.on('error', () => undefined);
    socket.on('data', (bytes: Buffer) => {
      for (const line of bytes.toString('ascii').split('\n').slice(0, -1)) {
        heard.push(line);
        const said = answer(line);
        if (said !== null) socket.write(said);
      }
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => {
    sockets.forEach((socket) => socket.destroy());
    server.close();
  });
  const { port } = server.address() as AddressInfo;
  return { port, heard, say: (text: string) => sockets.forEach((socket) => socket.write(text)) };
}

/** The built program with a driver from outside and a relay that it holds closed. */
async function watching() {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-stray-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  await copyFile(BOARD, join(folder, 'stray-board.mjs'));
  const board = await device(() => null);
  let isClosed = false;
  const relay = await device((line) => {
    if (line === 'CLOSE' || line === 'OPEN') isClosed = line === 'CLOSE';
    return line === 'STATE' ? `${isClosed ? 'CLOSED' : 'OPENED'}\r\n` : null;
  });
  const bench = join(folder, 'table.bench.yaml');
  await writeFile(
    bench,
    `bench: table
instruments:
  odd: { driver: ./stray-board.mjs, link: { tcp: '127.0.0.1:${board.port}' } }
outputs:
  mains-relay: { driver: relay-lines, link: { tcp: '127.0.0.1:${relay.port}' }, armed: true }
`,
  );
  const flags = ['--trust-drivers', '--port', '0', '--recordings', folder];
  const child = spawn(process.execPath, [MAIN, 'watch', DESIGN, '--bench', bench, ...flags]);
  const exited = once(child, 'exit');
  onTestFinished(() => void child.kill('SIGKILL'));
  let told = '';
  for (const stream of [child.stdout, child.stderr])
    stream.on('data', (text: Buffer) => (told += text.toString()));
  await vi.waitUntil(() => /http:\S+/.test(told), PATIENCE);
  const { host, origin } = new URL(/http:\S+/.exec(told)![0]);
  const page = new WebSocket(`ws://${host}/live`, { origin });
  onTestFinished(() => page.terminate());
  await once(page, 'open');
  await vi.waitUntil(
    () => {
      if (!isClosed)
        page.send(JSON.stringify({ kind: 'cut-off', output: 'mains-relay', order: 'on', inSight: true }));
      return isClosed && relay.heard.includes('ALIVE');
    },
    { ...PATIENCE, interval: 300 },
  );
  const recording = async (): Promise<string> => {
    const name = (await readdir(folder)).find((one) => one.endsWith('.ndjson'));
    return readFile(join(folder, name ?? ''), 'utf8');
  };
  return { child, exited, board, relay, recording, told: () => told };
}

const SEALED = /\n\{"kind":"end".*\}\n\{"kind":"seal".*\}\n$/;

describe('what a driver from outside throws where nobody calls it', { timeout: 120_000 }, () => {
  it.each(['REJECTS', 'TIMER', 'AWAITS'])(
    '%s: is that instrument’s fault; watching goes on, and the relay stays closed',
    async (how) => {
      const { child, exited, board, relay, recording, told } = await watching();
      board.say(`${how}\n`);
      await vi.waitUntil(() => /ALARM .*The instrument odd /.test(told()), PATIENCE);
      expect(told()).toMatch(
        /the driver stray-board failed in a promise or timer of its own: .*; mend the driver/,
      );
      const alive = relay.heard.length;
      await vi.waitUntil(() => relay.heard.slice(alive).includes('ALIVE'), PATIENCE);
      expect(relay.heard).not.toContain('OPEN');
      child.kill('SIGTERM');
      expect(await exited).toEqual([0, null]);
      expect(await recording()).toMatch(SEALED);
    },
  );

  it('that nobody can be blamed for ends the program in order: power off, recording closed, why told', async () => {
    const { exited, board, relay, recording, told } = await watching();
    board.say('WORD\n');
    expect(await exited).toEqual([70, null]);
    expect(relay.heard).toContain('OPEN');
    expect(relay.heard.slice(relay.heard.indexOf('OPEN'))).not.toContain('ALIVE');
    expect(await recording()).toMatch(SEALED);
    expect(told()).toMatch(/Something in the program failed, so it ends in order/);
    expect(told()).toMatch(/no table for this meter/);
  });
});

describe('whose a stray problem is', () => {
  const drivers = ['/bench/odd.mjs', '/bench/even.mjs', '/lib/meter/index.js'];
  const thrown = (...lines: string[]): Error =>
    Object.assign(new Error('x'), { stack: `Error: x\n${lines.join('\n')}` });
  const whose = (problem: unknown): readonly string[] => whoseStray(problem, drivers, (file) => file);

  it.each<[string, Error, readonly string[]]>([
    ['its own file', thrown('    at read (file:///bench/odd.mjs:3:5)'), ['/bench/odd.mjs']],
    ['without a function', thrown('    at file:///bench/odd.mjs:3:5'), ['/bench/odd.mjs']],
    [
      'after an await',
      thrown('    at node:internal/x:1:1', '    at async file:///bench/odd.mjs:3:5'),
      ['/bench/odd.mjs'],
    ],
    [
      'called by way of ours',
      thrown('    at take (file:///app/dist/daemon/x.js:1:1)', '    at /lib/meter/index.js:9:9'),
      ['/lib/meter/index.js'],
    ],
    [
      'a file of its package',
      thrown('    at Meter.read (/lib/meter/deep/talk.js:9:9)'),
      ['/lib/meter/index.js'],
    ],
    [
      'a file beside two of them: either',
      thrown('    at x (file:///bench/tables.mjs:3:5)'),
      ['/bench/odd.mjs', '/bench/even.mjs'],
    ],
    ['a package beside it', thrown('    at x (file:///bench/node_modules/ws/index.js:3:5)'), []],
    ['none of them', thrown('    at x (file:///app/dist/daemon/watch/watch.js:3:5)'), []],
    ['no stack', Object.assign(new Error('x'), { stack: undefined }), []],
  ])('%s', (_what, problem, files) => {
    expect(whose(problem)).toEqual(files);
  });

  it('a word is nobody’s', () => {
    expect(whose('no table')).toEqual([]);
  });
});
