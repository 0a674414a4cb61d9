import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { answerIn, askPort } from '../../../drivers/listen/ask-port.js';
import { openPtyPair, type PtyPair } from '../pty.js';

describe.skipIf(process.platform === 'win32')('askPort', () => {
  let directory: string;
  let pty: PtyPair;

  beforeEach(async () => {
    directory = await mkdtemp(join(tmpdir(), 'railminder-pty-'));
    pty = await openPtyPair(directory);
  });

  afterEach(async () => {
    await pty.unplug();
    await rm(directory, { recursive: true });
  });

  it('tells who answered, and leaves the port free', async () => {
    pty.onData((bytes) => void (bytes.toString() === '*IDN?\n' && pty.write('SIGNAL CABIN,METER,0,1.0\r\n')));
    for (let turn = 0; turn < 2; turn += 1) {
      expect(await askPort({ serial: pty.devicePath }, 9600)).toEqual({
        kind: 'identity',
        text: 'SIGNAL CABIN,METER,0,1.0',
      });
    }
  });

  it('tells what a board prints', async () => {
    pty.onData(() => void pty.write('1.3 C\r\nT1: 41.3 C\r\nT1: 41.4 C\r\nT1'));
    expect(await askPort({ serial: pty.devicePath }, 9600)).toEqual({ kind: 'prints', text: 'T1: 41.3 C' });
  });

  it('keeps a bound on a flood and shows nothing that a terminal would obey', async () => {
    pty.onData(() => void pty.write(`${'\x1b[31m'.repeat(20_000)}\n`));
    expect(await askPort({ serial: pty.devicePath }, 9600)).toEqual({ kind: 'garbled' });
  });

  it('tells silence, and why a port does not open', async () => {
    expect(await askPort({ serial: pty.devicePath }, 9600)).toEqual({ kind: 'silent' });
    const path = join(directory, 'nothing');
    const why = `${path} is not there; plug the device in, or check the path`;
    expect(await askPort({ serial: path }, 9600)).toEqual({ kind: 'not-open', why });
  });
});

it('asks over TCP too', async () => {
  const server = createServer((socket) => {
    socket.on('data', () => socket.write('SIGNAL CABIN,SCOPE,7,2.1\n'));
    socket.on('error', () => undefined);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  expect(await askPort({ tcp: `127.0.0.1:${port}` }, 9600)).toEqual({
    kind: 'identity',
    text: 'SIGNAL CABIN,SCOPE,7,2.1',
  });
  await new Promise((resolve) => server.close(resolve));
});

it.each([
  ['', 'silent'],
  ['\xf8\x80\x06\x98', 'garbled'],
  ['T1: 41.3 C\n', 'prints'],
  ['CABIN,METER,0,1\n', 'identity'],
])('%j is %s', (text, kind) => {
  expect(answerIn(Buffer.from(text, 'latin1')).kind).toBe(kind);
});
