import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { connect } from 'node:net';
import type { Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SerialPort } from 'serialport';
import { afterEach, describe, expect, it } from 'vitest';
import type { Link } from '../../../drivers/link.js';
import { serialLink } from '../../../drivers/links/serial.js';
import { scaledClock } from '../../../drivers/simulated/clock.js';
import { PTY_HOLDERS, openPty } from '../../../drivers/simulated/pty.js';
import { SCPI_METER_IDENTITY } from '../../../drivers/simulated/scpi-meter-device.js';
import { serveSimulatedBench } from '../../../drivers/simulated/serve-bench.js';
import type { ServeOptions, ServedBench } from '../../../drivers/simulated/serve-bench.js';
import { startSimulatedBench } from '../../../drivers/simulated/simulated-bench.js';
import { CABIN, CABIN_BENCH } from './cabin.js';

const cleanups: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

async function servedCabin(options: ServeOptions = {}) {
  const bench = startSimulatedBench({ design: CABIN, bench: CABIN_BENCH, clock: scaledClock(20) });
  const served = await serveSimulatedBench(bench, options);
  cleanups.push(() => served.stop());
  return { bench, served };
}

/** The device path or the TCP address. */
function addressOf(served: ServedBench, instrument: string): string {
  const link = served.instruments.find((each) => each.instrument === instrument)?.link;
  if (link && 'serial' in link) return link.serial;
  if (link && 'tcp' in link) return link.tcp;
  throw new Error(`${instrument} isn't served`);
}

async function openSerial(path: string): Promise<SerialPort> {
  const port = new SerialPort({ path, baudRate: 9600, autoOpen: false });
  await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())));
  cleanups.push(() => new Promise((resolve) => (port.isOpen ? port.close(resolve) : resolve(null))));
  return port;
}

function openSocket(address: string): Socket {
  const [host = '', port = ''] = address.split(':');
  const socket = connect(Number(port), host);
  cleanups.push(() => Promise.resolve(socket.destroy()));
  return socket;
}

function listen(link: Link) {
  const states: string[] = [];
  let text = '';
  link.start({
    onState: ({ kind }) => void states.push(kind),
    onBytes: (chunk) => (text += Buffer.from(chunk).toString()),
  });
  cleanups.push(() => link.stop());
  return { states, text: () => text, forget: () => (text = '') };
}

/** Reads until the text fits. */
function hear(source: SerialPort | Socket, wanted: RegExp): Promise<string> {
  return new Promise((resolve) => {
    let text = '';
    const listener = (bytes: Buffer): void => {
      text += bytes.toString();
      if (!wanted.test(text)) return;
      source.off('data', listener);
      resolve(text);
    };
    source.on('data', listener);
  });
}

describe('on pseudo-terminals', () => {
  it('serialport opens every path; the meter answers and the board prints', async () => {
    const { served } = await servedCabin();
    expect(served.instruments.map(({ instrument }) => instrument)).toEqual(['meter', 'probes', 'rails']);
    const meter = await openSerial(addressOf(served, 'meter'));
    const answer = hear(meter, /\n.*\n/);
    meter.write('*IDN?\nREAD?\n');
    expect(await answer).toMatch(new RegExp(`^${SCPI_METER_IDENTITY}\n[+-]\\d\\.\\d{8}E[+-]\\d\\d\n$`));
    const probes = await openSerial(addressOf(served, 'probes'));
    expect(await hear(probes, /C\r\n/)).toMatch(/T1: \d\d\.\d C, T2: \d\d\.\d C\r\n/);
  });

  it('unplugged, the path is gone and the link lost; plugged in, the same path works again', async () => {
    const { bench, served } = await servedCabin();
    const path = addressOf(served, 'probes');
    const link = listen(serialLink({ path, baud: 9600 }));
    await expect.poll(() => link.text()).toMatch(/C\r\n/);
    await bench.unplug('probes');
    await expect.poll(() => link.states).toContain('lost');
    await expect(openSerial(path)).rejects.toThrow(/No such file/);
    await bench.plugIn('probes');
    await expect.poll(() => link.states.at(-1), { timeout: 10_000 }).toBe('back');
    link.forget();
    await expect.poll(() => link.text()).toMatch(/T1: \d\d\.\d C, T2: \d\d\.\d C\r\n/);
  });

  it('stop takes the paths and their folder away', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-test-'));
    cleanups.push(() => rm(folder, { recursive: true, force: true }));
    const { served } = await servedCabin({ directory: folder });
    expect((await readdir(folder)).sort()).toEqual(['meter', 'probes', 'rails']);
    await served.stop();
    expect(await readdir(folder)).toEqual([]);
  });
});

describe.each(PTY_HOLDERS)('a pseudo-terminal held by %s', (holder) => {
  async function heldPty(onText: (text: string) => void = () => undefined) {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-test-'));
    cleanups.push(() => rm(folder, { recursive: true, force: true }));
    const path = join(folder, 'device');
    const outlet = await openPty(path, holder, (bytes) => onText(Buffer.from(bytes).toString('latin1')));
    cleanups.push(() => outlet.unplug());
    return { path, outlet, say: (text: string) => outlet.send(Buffer.from(text, 'latin1')) };
  }

  it('carries every byte both ways unchanged', async () => {
    let heard = '';
    const { path, say } = await heldPty((text) => (heard += text));
    const port = await openSerial(path);
    const every = String.fromCharCode(...Array.from({ length: 256 }, (_, code) => code));
    let said = '';
    const arrived = new Promise<void>((resolve) => {
      port.on('data', (bytes: Buffer) => {
        said += bytes.toString('latin1');
        if (said.length >= 256) resolve();
      });
    });
    say(every);
    await arrived;
    expect(said).toBe(every);
    port.write(Buffer.from(every, 'latin1'));
    await expect.poll(() => heard).toBe(every);
  });

  it('outlives a program that closes its end', async () => {
    const { path, say } = await heldPty();
    const first = await openSerial(path);
    await new Promise((resolve) => first.close(resolve));
    const second = await openSerial(path);
    const answer = hear(second, /again/);
    say('again');
    expect(await answer).toMatch(/again$/);
  });

  it('keeps no more than a little for a program that does not read', async () => {
    const { path, say } = await heldPty();
    const port = await openSerial(path);
    const line = 'T1: 41.3 C, T2: 38.9 C\r\n';
    for (let count = 0; count < 200_000; count += 1) say(line);
    let bytes = 0;
    let tail = '';
    port.on('data', (chunk: Buffer) => {
      bytes += chunk.length;
      tail = chunk.toString().slice(-20);
    });
    await expect.poll(() => (say('\r\nend\r\n'), tail), { timeout: 10_000 }).toContain('end');
    expect(bytes).toBeLessThan((200_000 * line.length) / 4);
  });
});

it('held by python3, what was said to nobody is not heard by a program that comes late', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-test-'));
  cleanups.push(() => rm(folder, { recursive: true, force: true }));
  const path = join(folder, 'device');
  const outlet = await openPty(path, 'python3', () => undefined);
  cleanups.push(() => outlet.unplug());
  for (let count = 0; count < 100; count += 1) outlet.send(Buffer.from('stale\r\n'));
  await new Promise((resolve) => setTimeout(resolve, 300)); // the child looks every 20 ms; nothing tells us when it did
  const port = await openSerial(path);
  const answer = hear(port, /fresh\r\n/);
  outlet.send(Buffer.from('fresh\r\n'));
  expect(await answer).toBe('fresh\r\n');
});

describe('over TCP', () => {
  it('the meter answers, is gone when unplugged, and is back at the same port', async () => {
    const { bench, served } = await servedCabin({ as: 'tcp' });
    const address = addressOf(served, 'meter');
    expect(address).toMatch(/^127\.0\.0\.1:\d+$/);
    const first = openSocket(address);
    first.write('*IDN?\n');
    expect(await hear(first, /\n/)).toBe(`${SCPI_METER_IDENTITY}\n`);
    const closed = new Promise((resolve) => first.once('close', resolve));
    await bench.unplug('meter');
    await closed;
    await bench.plugIn('meter');
    const second = openSocket(address);
    second.write('*OPC?\n');
    expect(await hear(second, /\n/)).toBe('1\n');
  });

  it('the newest program has the instrument', async () => {
    const { served } = await servedCabin({ as: 'tcp' });
    const address = addressOf(served, 'meter');
    const first = openSocket(address);
    first.write('*OPC?\n');
    await hear(first, /\n/);
    const closed = new Promise((resolve) => first.once('close', resolve));
    const second = openSocket(address);
    await closed;
    second.write('*OPC?\n');
    expect(await hear(second, /\n/)).toBe('1\n');
  });
});
