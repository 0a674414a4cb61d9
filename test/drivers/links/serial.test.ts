import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, onTestFinished } from 'vitest';
import type { Link } from '../../../drivers/link.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { manualClock } from '../../manual-clock.js';
import { openPtyPair, type PtyPair } from '../pty.js';
import { listenTo, times } from './heard.js';

describe.skipIf(process.platform === 'win32')('serialLink over a pseudo-terminal', () => {
  let directory: string;
  let pty: PtyPair;
  let links: Link[];

  beforeEach(async () => {
    directory = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
    pty = await openPtyPair(directory);
    links = [];
  });

  afterEach(async () => {
    await Promise.all(links.map((link) => link.stop()));
    await pty.unplug();
    await rm(directory, { recursive: true });
  });

  function linkTo(options: Partial<Parameters<typeof serialLink>[0]>): Link {
    const link = serialLink({ baud: 9600, ...options });
    links.push(link);
    return link;
  }

  it('carries bytes both ways', async () => {
    const link = linkTo({ path: pty.devicePath });
    const heard = listenTo(link);
    const answered = new Promise<string>((resolve) => pty.onData((bytes) => resolve(bytes.toString())));
    await heard.until((h) => times(h, 'open') === 1);
    await link.write(Buffer.from('READ?\n'));
    await pty.write('12.06\n');
    await heard.until((h) => h.text() === '12.06\n');
    expect(await answered).toBe('READ?\n');
    expect(heard.states).toEqual([{ kind: 'open', path: pty.devicePath }]);
  });

  it('does not send after the replug what was written while the device was away', async () => {
    const link = linkTo({ path: pty.devicePath });
    const heard = listenTo(link);
    let received = '';
    const first = new Promise<void>((resolve) => {
      pty.onData((bytes) => {
        received += bytes.toString();
        if (received.endsWith('*IDN?\n')) resolve();
      });
    });
    await heard.until((h) => times(h, 'open') === 1);
    await pty.unplug();
    await heard.until((h) => times(h, 'lost') === 1);
    await expect(link.write(Buffer.from('OUTP ON\n'))).rejects.toMatchObject({ code: 'link-not-open' });
    await pty.replug();
    await heard.until((h) => times(h, 'back') === 1);
    await link.write(Buffer.from('*IDN?\n'));
    await first;
    expect(received).toBe('*IDN?\n');
  });

  it('says that the device is missing, then opens it when it comes', async () => {
    await pty.unplug();
    const heard = listenTo(linkTo({ path: pty.devicePath }));
    await heard.until((h) => times(h, 'waiting') === 1);
    await pty.replug();
    await heard.until((h) => times(h, 'open') === 1);
    expect(heard.states[0]).toEqual({
      kind: 'waiting',
      why: `${pty.devicePath} is not there; plug the device in, or check the path`,
    });
  });

  it('says that another program has it open', async () => {
    const first = listenTo(linkTo({ path: pty.devicePath }));
    await first.until((h) => times(h, 'open') === 1);
    const second = listenTo(linkTo({ path: pty.devicePath }));
    await second.until((h) => times(h, 'waiting') === 1);
    expect(second.states[0]).toMatchObject({
      why: expect.stringMatching(/ is in use by .*; close what else reads it/) as string,
    });
  });

  it.runIf(process.platform === 'linux')('says which other program has it open', async () => {
    const script =
      'new (require("serialport").SerialPort)({ path: process.argv[1], baudRate: 9600 }, () => console.log("open")).on("data", () => {})';
    const child = spawn(process.execPath, ['-e', script, pty.devicePath], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    onTestFinished(() => void child.kill('SIGKILL'));
    await once(child.stdout, 'data');
    const heard = listenTo(linkTo({ path: pty.devicePath }));
    await heard.until((h) => times(h, 'waiting') === 1);
    const [state] = heard.states;
    expect(state?.kind === 'waiting' && state.why).toContain(`(process ${child.pid})`);
  });

  it('finds a USB device under whatever path it has now', async () => {
    const listed = { path: pty.devicePath, vendorId: '1a86', productId: '7523' };
    const lists = [[], [listed], [listed]];
    const list = () => Promise.resolve(lists.shift() ?? [listed]);
    const link = linkTo({ usb: { vendor: '1A86', product: '7523' }, list });
    const heard = listenTo(link);
    await heard.until((h) => times(h, 'open') === 1);
    expect(link.name).toBe('USB device 1A86:7523 at 9600 baud');
    expect(heard.states.map((state) => state.kind)).toEqual(['waiting', 'open']);
  });

  it('tells a system that lists no ports in words', async () => {
    const list = () => Promise.reject(new Error('spawn ENOENT'));
    const heard = listenTo(linkTo({ usb: { vendor: '1a86', product: '7523' }, list, clock: manualClock() }));
    await heard.until((h) => times(h, 'waiting') === 1);
    expect(heard.states[0]).toMatchObject({
      why: expect.stringMatching(/does not list its serial ports/) as string,
    });
  });

  it('lets the device go when stopped, so that another can open it', async () => {
    const link = linkTo({ path: pty.devicePath });
    const heard = listenTo(link);
    await heard.until((h) => times(h, 'open') === 1);
    await link.stop();
    await link.stop();
    expect(heard.states.at(-1)).toEqual({ kind: 'closed' });
    const next = listenTo(linkTo({ path: pty.devicePath }));
    await next.until((h) => times(h, 'open') === 1);
  });

  it('needs a path or a USB id', () => {
    expect(() => serialLink({ baud: 9600 })).toThrow(/neither path nor usb/);
  });
});
