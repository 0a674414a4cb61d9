import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, vi, type TestContext } from 'vitest';
import { WebSocket } from 'ws';
import { instrumentPort } from '../../drivers/simulated/instrument-port.js';
import type { Outlet } from '../../drivers/simulated/outlet.js';
import { openPty } from '../../drivers/simulated/pty.js';
import { relayBoardDevice } from '../../drivers/simulated/relay-board-device.js';
import { systemClock } from '../../drivers/system-clock.js';
import { relayTable } from './relay-table.js';
import { MAIN } from './run-command.js';

const DESIGN = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);
const LOOPING = fileURLToPath(new URL('./children/looping-board.mjs', import.meta.url));
/** The board opens without a keep-alive for so long; the program sends one in a tenth of it. */
const DEAD_MS = 2500;
const ALIVE_MS = 250;
/** A busy machine may take long to get there; the board alone judges the time. */
const PATIENCE = { timeout: 60_000 };

type Case = Pick<TestContext, 'onTestFinished'>;

interface Held {
  readonly child: ChildProcess;
  /** Every move of the contact and why, as the board saw it. */
  readonly contact: readonly string[];
  readonly relay: Outlet;
  readonly loop: Outlet;
  /** Everything that the program has told. */
  readonly told: () => string;
}

/** The built program watches and holds the board's contact closed, all of it over pseudo-terminals. */
async function heldRelay({ onTestFinished }: Case): Promise<Held> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-dead-man-'));
  const port = instrumentPort();
  const [railsPath, relayPath, loopPath] = ['rails', 'relay', 'loop'].map((name) => join(folder, name)) as [
    string,
    string,
    string,
  ];
  const rails = await openPty(railsPath, 'python3', () => undefined);
  const relay = await openPty(relayPath, 'python3', (bytes) => port.receive(bytes));
  const loop = await openPty(loopPath, 'python3', () => undefined);
  port.attach(relay);
  const contact: string[] = [];
  const board = relayBoardDevice({
    end: port,
    clock: systemClock(),
    deadMs: DEAD_MS,
    onContact: (isClosed, because) => void contact.push(`${isClosed ? 'closed' : 'open'}: ${because}`),
  });
  board.start();
  const speaking = setInterval(() => rails.send(Buffer.from('LOGIC 5.02 V\r\n')), 100);
  const file = join(folder, 'table.bench.yaml');
  const instruments = `  looping:\n    driver: ${LOOPING}\n    link: { serial: ${loopPath} }\n`;
  await writeFile(file, relayTable(railsPath, relayPath, { instruments, aliveMs: ALIVE_MS }));
  const flags = ['--trust-drivers', '--port', '0', '--recordings', folder, '--json'];
  const child = spawn(process.execPath, [MAIN, 'watch', DESIGN, '--bench', file, ...flags]);
  const gone = once(child, 'close');
  onTestFinished(async () => {
    clearInterval(speaking);
    child.kill('SIGKILL');
    await gone;
    board.stop();
    await Promise.all([rails.unplug(), relay.unplug(), loop.unplug()]);
    await rm(folder, { recursive: true });
  });
  let told = '';
  child.stdout.on('data', (text: Buffer) => (told += text.toString()));
  child.stderr.on('data', (text: Buffer) => (told += text.toString()));
  const held: Held = { child, contact, relay, loop, told: () => told };
  await vi.waitUntil(() => /http:\S+/.test(told), PATIENCE);
  const page = await switchOnAndArm(held, new URL(/http:\S+/.exec(told)![0]));
  onTestFinished(() => page.terminate());
  return held;
}

/** As a person does it on the page. */
async function switchOnAndArm({ contact, told }: Held, { host, origin }: URL): Promise<WebSocket> {
  const page = new WebSocket(`ws://${host}/live`, { origin });
  await once(page, 'open');
  const order = (what: 'on' | 'arm'): void =>
    page.send(JSON.stringify({ kind: 'cut-off', output: 'mains-relay', order: what, inSight: true }));
  await vi.waitUntil(
    () => {
      if (contact.length === 0) order('on');
      return contact.length > 0;
    },
    { ...PATIENCE, interval: 500 },
  );
  order('arm');
  await vi.waitUntil(() => /"kind":"cut-off".*"change":"armed"/.test(told()), PATIENCE);
  return page;
}

// Side by side: each waits for a board's time to pass.
describe.skipIf(process.platform === 'win32')(
  'a relay that the program holds closed',
  { concurrent: true },
  () => {
    it.for<[string, (held: Held) => unknown]>([
      ['is killed with kill -9', ({ child }) => child.kill('SIGKILL')],
      ['is stopped with SIGSTOP', ({ child }) => child.kill('SIGSTOP')],
      ['is caught in an endless loop', ({ loop }) => loop.send(Buffer.from('LOOP\r\n'))],
      ['has its cable pulled', ({ relay }) => relay.unplug()],
    ])(
      'is opened by the board for want of a keep-alive when the program %s, and not before',
      { timeout: 120_000 },
      async ([, strike], context) => {
        const held = await heldRelay(context);
        await new Promise((resolve) => setTimeout(resolve, 2 * DEAD_MS));
        expect(held.contact).toEqual(['closed: told']);
        await strike(held);
        await vi.waitUntil(() => held.contact.length > 1, PATIENCE);
        expect(held.contact).toEqual(['closed: told', 'open: no-keep-alive']);
      },
    );

    it('stays open when the program goes on after a SIGSTOP, which is told as a stall and no sleep', async (context) => {
      const { child, contact, told } = await heldRelay(context);
      child.kill('SIGSTOP');
      await vi.waitUntil(() => contact.length > 1, PATIENCE);
      const before = told().length;
      child.kill('SIGCONT');
      await vi.waitUntil(() => /"id":"stalled"/.test(told().slice(before)), PATIENCE);
      await vi.waitUntil(() => /"kind":"cut-off".*"change":"dropped"/.test(told().slice(before)), PATIENCE);
      await new Promise((resolve) => setTimeout(resolve, 2 * DEAD_MS));
      expect(contact).toEqual(['closed: told', 'open: no-keep-alive']);
      expect(told()).not.toMatch(/"id":"clock-jumped"/);
      expect(child.exitCode).toBeNull();
    }, 120_000);
  },
);
