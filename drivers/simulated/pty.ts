import { spawn } from 'node:child_process';
import type { ChildProcessWithoutNullStreams } from 'node:child_process';
import { closeSync, constants, lstatSync, openSync, unlinkSync } from 'node:fs';
import { UNREAD_BYTES } from './outlet.js';
import type { Outlet } from './outlet.js';
import { PTY_CHILD } from './pty-child.js';

/**
 * What holds the far side of the pseudo-terminal.
 * - `python3` knows whether a program listens, and lets lines that nobody hears go.
 * - `socat` doesn't: a program that comes late first gets some kilobytes of what was said before.
 */
export type PtyHolder = 'python3' | 'socat';

export const PTY_HOLDERS: readonly PtyHolder[] = ['python3', 'socat'];

interface Plugged {
  readonly child: ChildProcessWithoutNullStreams;
  /** Our own hold on the slave, without which socat ends whenever a program closes its end. */
  readonly slaveFd: number | null;
}

/**
 * A serial device at `path`, a link to a pseudo-terminal. Any program opens it, at any baud.
 * @throws Error (rejects) naming the holder that couldn't be started.
 */
export async function openPty(
  path: string,
  holder: PtyHolder,
  onBytes: (bytes: Uint8Array) => void,
): Promise<Outlet> {
  let plugged: Plugged | null = await plugInPty(path, holder, onBytes);
  return {
    send(bytes) {
      const input = plugged?.child.stdin;
      if (input?.writable && input.writableLength < UNREAD_BYTES) input.write(bytes);
    },
    async unplug() {
      const gone = plugged;
      plugged = null;
      if (gone) await unplugPty(path, gone);
    },
    async plugIn() {
      plugged ??= await plugInPty(path, holder, onBytes);
    },
  };
}

/** The first holder that works here; null where none does, and on systems without pseudo-terminals. */
export async function openAnyPty(path: string, onBytes: (bytes: Uint8Array) => void): Promise<Outlet | null> {
  if (process.platform === 'win32') return null;
  for (const holder of PTY_HOLDERS) {
    const outlet = await openPty(path, holder, onBytes).catch(() => null);
    if (outlet) return outlet;
  }
  return null;
}

async function plugInPty(
  path: string,
  holder: PtyHolder,
  onBytes: (bytes: Uint8Array) => void,
): Promise<Plugged> {
  const child =
    holder === 'python3'
      ? spawn('python3', ['-u', '-c', PTY_CHILD, path])
      : spawn('socat', ['-d', '-d', `PTY,raw,echo=0,link=${path}`, 'STDIO']);
  child.stdin.on('error', () => undefined); // the pipe breaks when the device is pulled out while it speaks
  child.stdout.on('data', onBytes);
  await untilReady(child, holder, holder === 'python3' ? /ready/ : /starting data transfer loop/);
  const slaveFd = holder === 'socat' ? openSync(path, constants.O_RDWR | constants.O_NOCTTY) : null;
  return { child, slaveFd };
}

function untilReady(child: ChildProcessWithoutNullStreams, holder: PtyHolder, ready: RegExp): Promise<void> {
  return new Promise((resolve, reject) => {
    let told = '';
    child.stderr.on('data', (bytes: Buffer) => {
      told = (told + bytes.toString()).slice(-2000);
      if (ready.test(told)) resolve();
    });
    child.once('error', (cause) => reject(new Error(`${holder} did not start: ${cause.message}`, { cause })));
    child.once('close', () => reject(new Error(`${holder} ended at once: ${told.trim()}`)));
  });
}

/** SIGTERM lets the holder take its link away; one that doesn't listen is killed and its link removed here. */
async function unplugPty(path: string, { child, slaveFd }: Plugged): Promise<void> {
  if (child.exitCode === null && child.signalCode === null) {
    const closed = new Promise((resolve) => child.once('close', resolve));
    const kill = setTimeout(() => child.kill('SIGKILL'), 2000);
    child.kill('SIGTERM');
    await closed;
    clearTimeout(kill);
  }
  if (slaveFd !== null) closeSync(slaveFd);
  if (lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink()) unlinkSync(path);
}
