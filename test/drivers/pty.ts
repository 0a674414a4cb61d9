import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { closeSync, constants, openSync } from 'node:fs';
import { join } from 'node:path';

/** A pseudo-terminal that stands for a serial device: the test holds the far end and can pull it out. */
export interface PtyPair {
  /** What a program opens, the same after every replug. */
  readonly devicePath: string;
  /** What the device says. Resolves when the terminal will take more, so a flood can be paced by it. */
  write(bytes: Uint8Array | string): Promise<void>;
  /** Listens to what the program writes to the device. */
  onData(listener: (bytes: Buffer) => void): void;
  /** Takes the device away, as pulling the plug does. Resolves when it is gone. */
  unplug(): Promise<void>;
  /** Puts it back under the same path. Resolves when it can be opened. */
  replug(): Promise<void>;
}

const SOCAT_READY = /starting data transfer loop/;

interface Plugged {
  readonly socat: ChildProcessWithoutNullStreams;
  /** Kept open so that socat doesn't end whenever the program under test closes its own end. */
  readonly holderFd: number;
}

/**
 * Opens a pseudo-terminal in `directory` (which must exist). Needs the `socat` package.
 * Call `unplug` at the end of the test: it ends the child and removes the device path.
 */
export async function openPtyPair(directory: string, name = 'device'): Promise<PtyPair> {
  const devicePath = join(directory, name);
  const listeners: ((bytes: Buffer) => void)[] = [];
  let plugged: Plugged | null = await plugIn();

  async function plugIn(): Promise<Plugged> {
    const socat = spawn('socat', ['-d', '-d', `PTY,raw,echo=0,link=${devicePath}`, 'STDIO']);
    socat.stdin.on('error', () => undefined); // the pipe breaks when a flood is cut short by unplug
    socat.stdout.on('data', (bytes: Buffer) => listeners.forEach((listener) => listener(bytes)));
    await untilReady(socat);
    return { socat, holderFd: openSync(devicePath, constants.O_RDWR | constants.O_NOCTTY) };
  }

  return {
    devicePath,
    write(bytes) {
      const input = plugged?.socat.stdin;
      if (!input?.writable || input.write(bytes)) return new Promise((resolve) => setImmediate(resolve));
      return new Promise((resolve) => {
        input.once('drain', resolve);
        input.once('close', resolve);
      });
    },
    onData: (listener) => void listeners.push(listener),
    async unplug() {
      if (plugged === null) return;
      const { socat, holderFd } = plugged;
      plugged = null;
      const exited = new Promise((resolve) => socat.once('close', resolve));
      socat.kill('SIGTERM'); // a killed socat leaves a dangling path behind
      await exited;
      closeSync(holderFd);
    },
    async replug() {
      plugged ??= await plugIn();
    },
  };
}

function untilReady(socat: ChildProcessWithoutNullStreams): Promise<void> {
  return new Promise((resolve, reject) => {
    let told = '';
    socat.stderr.on('data', (bytes: Buffer) => {
      told = (told + bytes.toString()).slice(-2000);
      if (SOCAT_READY.test(told)) resolve();
    });
    socat.once('error', (cause) =>
      reject(new Error('socat did not start; install the socat package', { cause })),
    );
    socat.once('close', () => reject(new Error(`socat ended early: ${told}`)));
  });
}
