import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { copyFile, readFile, writeFile } from 'node:fs/promises';
import { createServer, type AddressInfo, type Socket } from 'node:net';
import { join } from 'node:path';
import { WebSocket } from 'ws';
import { openPtyPair } from '../drivers/pty.js';

const EXAMPLE = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';
/** An answer of the page that takes its thread some while, asked so often. */
const ASKED = 6;

/** A session with everything that could hold up its end; it is the caller who ends it. */
export interface BusySession {
  readonly child: ChildProcess;
  /** The recording's text as it is now. */
  recording(): Promise<string>;
  /** Takes the instruments away. */
  tidy(): Promise<void>;
}

/**
 * Starts the program with a meter that never answers, a serial device that never reads, pages that look on, a
 * connection that says nothing, and its threads at work.
 * @param folder a new one, for its files
 * @param packageFolder where the built program is
 */
export async function busySession(folder: string, packageFolder: string): Promise<BusySession> {
  const held: Socket[] = [];
  const deaf = createServer((socket) => void held.push(socket.on('error', () => undefined)));
  await new Promise<void>((resolve) => deaf.listen(0, '127.0.0.1', resolve));
  const hanging = await openPtyPair(folder, 'hanging');
  await copyFile(join(packageFolder, EXAMPLE), join(folder, 'cabin.design.yaml'));
  const text = await readFile(join(folder, 'cabin.design.yaml'), 'utf8');
  await writeFile(
    join(folder, 'cabin.bench.yaml'),
    `bench: table
instruments:
  meter:
    driver: scpi-meter
    link: { tcp: '127.0.0.1:${(deaf.address() as AddressInfo).port}' }
    channels: { volts: { measures: dc-volts, at: logic.volts } }
  probes:
    driver: modbus-rtu
    link: { serial: ${hanging.devicePath} }
    options: { registers: [{ channel: logic.case, unit: 1, read: holding, address: 0, type: int16, measures: temperature }] }
`,
  );
  const child = spawn(
    process.execPath,
    [
      join(packageFolder, 'dist/daemon/main.js'),
      'watch',
      'cabin.design.yaml',
      '--bench',
      'cabin.bench.yaml',
      '--port',
      '0',
    ],
    { cwd: folder, stdio: ['ignore', 'pipe', 'pipe'] },
  );
  const { address, file } = await placesOf(child);
  const pages = Array.from({ length: 3 }, () => new WebSocket(`${address.replace('http', 'ws')}live`));
  for (const page of pages) page.on('error', () => undefined);
  await Promise.all(pages.map((page) => once(page, 'message')));
  const body = JSON.stringify({ text, edits: [], load: 'full', draws: 'full' });
  const headers = { 'content-type': 'application/json' };
  for (let turn = 0; turn < ASKED; turn += 1) {
    void fetch(`${address}design/preview`, { method: 'POST', headers, body }).catch(() => undefined);
  }
  return {
    child,
    recording: () => readFile(file, 'utf8'),
    async tidy() {
      for (const page of pages) page.terminate();
      for (const socket of held) socket.destroy();
      deaf.close();
      await hanging.unplug();
    },
  };
}

/** The page's address and the recording's file, as the program says them. */
function placesOf(child: ChildProcess): Promise<{ address: string; file: string }> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.once('exit', () => reject(new Error(said)));
    for (const stream of [child.stdout, child.stderr]) {
      stream?.on('data', (bytes: Buffer) => {
        said += bytes.toString('utf8');
        const { address, file } =
          /The page: (?<address>\S+)\s[^]*Recording: (?<file>.*)\. Ctrl-C/.exec(said)?.groups ?? {};
        if (address !== undefined && file !== undefined) resolve({ address, file });
      });
    }
  });
}
