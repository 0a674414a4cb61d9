import { fork, type ChildProcess } from 'node:child_process';
import { readdir, readFile, realpath } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Clock } from '../clock.js';
import type { Link } from '../link.js';
import { systemClock } from '../system-clock.js';
import { reopeningLink, type Connection, type ConnectionListener } from './reopening.js';
import { findUsbDevice, usbIdText, type ListedPort, type UsbId } from './usb-id.js';
import type { DeviceMessage, WriteMessage } from './usbtmc-messages.js';

export interface UsbtmcLinkOptions {
  /** `/dev/usbtmc0` for example. */
  readonly path?: string;
  /** Looked up anew at every try, so that the device is found again under any number. Used when `path` is absent. */
  readonly usb?: UsbId;
  /** Paces the retries. */
  readonly clock?: Clock;
  /** The compiled script of the child process. */
  readonly childScript?: string;
}

const CHILD_SCRIPT = fileURLToPath(new URL('./usbtmc-child.js', import.meta.url));
const DEVICES_OF_THE_SYSTEM = '/sys/class/usbmisc';
/** Time for the child to start on a busy machine. */
const OPEN_WITHIN_MS = 15_000;
/** A killed child ends when the read that it is in does: after the 5 s of the device file at the latest. */
const RELEASED_WITHIN_MS = 6000;

/**
 * A USB instrument of the test and measurement class, through the device file that Linux gives it. An answer is read
 * after each question that is written; what the device says unasked stays in it until then.
 * @throws RangeError when neither `path` nor `usb` is given.
 */
export function usbtmcLink(options: UsbtmcLinkOptions): Link {
  const { path, usb, clock = systemClock(), childScript = CHILD_SCRIPT } = options;
  if (path === undefined && usb === undefined) {
    throw new RangeError('usbtmc link: found neither path nor usb; give one of them');
  }
  const findPath = async (): Promise<string> => path ?? findUsbDevice(usb as UsbId, await listUsbtmc());
  return reopeningLink(
    {
      name: path ?? `USB instrument ${usb === undefined ? '' : usbIdText(usb)}`,
      connect: async (listener, signal) => openDevice(await findPath(), childScript, listener, signal),
    },
    clock,
  );
}

/** The instruments of this class that the system has now. Empty on systems without them. */
export async function listUsbtmc(folder = DEVICES_OF_THE_SYSTEM): Promise<readonly ListedPort[]> {
  const names = await readdir(folder).catch(() => []);
  const read = async (name: string, file: string): Promise<string | undefined> => {
    // The link leads to the interface; what the device says of itself stands a folder above that.
    const link = join(folder, name, 'device');
    const device = dirname(await realpath(link).catch(() => link));
    const text = await readFile(join(device, file), 'utf8').catch(() => '');
    return text.trim() || undefined;
  };
  const wanted = names.filter((name) => /^usbtmc\d+$/.test(name));
  return Promise.all(
    wanted.map(async (name) => {
      const [vendorId, productId, serialNumber] = [
        await read(name, 'idVendor'),
        await read(name, 'idProduct'),
        await read(name, 'serial'),
      ];
      return {
        path: `/dev/${name}`,
        ...(vendorId !== undefined && { vendorId }),
        ...(productId !== undefined && { productId }),
        ...(serialNumber !== undefined && { serialNumber }),
      };
    }),
  );
}

async function openDevice(
  path: string,
  childScript: string,
  listener: ConnectionListener,
  signal: AbortSignal,
): Promise<Connection> {
  const device = new DeviceProcess(forked(childScript, path), path, listener);
  try {
    await device.untilOpen(signal);
  } catch (problem) {
    await device.close();
    throw problem;
  }
  return device;
}

/** What the system can't start is told as `error` later, or thrown at once. */
function forked(childScript: string, path: string): ChildProcess {
  try {
    return fork(childScript, [path], {
      serialization: 'advanced',
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
      execArgv: [],
    });
  } catch (problem) {
    throw new Error(notStarted(path, problem), { cause: problem });
  }
}

function notStarted(path: string, problem: unknown): string {
  const why = problem instanceof Error ? problem.message : String(problem);
  return `${path} can't be read, for the system starts no process for it (${why}); end other programs`;
}

interface PendingWrite {
  readonly resolve: () => void;
  readonly reject: (problem: Error) => void;
}

/** The child process that has the device open. */
class DeviceProcess implements Connection {
  readonly path: string;
  readonly #child: ChildProcess;
  readonly #listener: ConnectionListener;
  readonly #writes = new Map<number, PendingWrite>();
  readonly #exited: Promise<void>;
  #nextId = 0;
  #opened: PendingWrite | null = null;
  #endedWhy: string | null = null;

  constructor(child: ChildProcess, path: string, listener: ConnectionListener) {
    this.path = path;
    this.#child = child;
    this.#listener = listener;
    this.#exited = new Promise((resolve) => {
      child.once('exit', () => resolve());
      child.once('error', () => resolve());
    });
    child.on('message', (message) => this.#take(message as DeviceMessage));
    child.on('error', (problem) => this.#end(notStarted(path, problem)));
    child.once('exit', () => this.#end(`the process that reads ${path} has ended; it is started again`));
  }

  untilOpen(signal: AbortSignal): Promise<void> {
    return new Promise((resolve, reject) => {
      const late = setTimeout(
        () => this.#end(`${this.path} did not open in time; plug it in again`),
        OPEN_WITHIN_MS,
      );
      const stop = (): void => this.#end('stopped');
      const settled = (): void => {
        clearTimeout(late);
        signal.removeEventListener('abort', stop);
      };
      this.#opened = {
        resolve: () => (settled(), resolve()),
        reject: (problem) => (settled(), reject(problem)),
      };
      signal.addEventListener('abort', stop);
      if (signal.aborted) stop();
      if (this.#endedWhy !== null) this.#opened.reject(new Error(this.#endedWhy));
    });
  }

  write(bytes: Uint8Array): Promise<void> {
    return new Promise((resolve, reject) => {
      if (this.#endedWhy !== null) return reject(new Error(this.#endedWhy));
      const message: WriteMessage = { kind: 'write', id: (this.#nextId += 1), bytes: new Uint8Array(bytes) };
      this.#writes.set(message.id, { resolve, reject });
      this.#child.send(message, (problem) => {
        if (problem !== null)
          this.#end(`the process that reads ${this.path} takes nothing (${problem.message})`);
      });
    });
  }

  async close(): Promise<void> {
    this.#end('closed');
    this.#child.kill('SIGKILL');
    let giveUp: NodeJS.Timeout | undefined;
    const tooLong = new Promise<void>((resolve) => (giveUp = setTimeout(resolve, RELEASED_WITHIN_MS)));
    await Promise.race([this.#exited, tooLong]);
    clearTimeout(giveUp);
    if (this.#child.connected) this.#child.disconnect();
    this.#child.unref();
  }

  #take(message: DeviceMessage): void {
    switch (message.kind) {
      case 'open':
        return this.#opened?.resolve();
      case 'not-open':
        return this.#end(notOpenInWords(this.path, message.code, message.why));
      case 'bytes':
        if (this.#endedWhy === null) this.#listener.onBytes(message.bytes);
        return;
      case 'written':
        return this.#settle(message.id, (write) => write.resolve());
      case 'not-written':
        return this.#settle(message.id, (write) => write.reject(new Error(message.why)));
      case 'gone':
        return this.#end(`${this.path} went away (${message.code}); check its cable and power`);
    }
  }

  #settle(id: number, how: (write: PendingWrite) => void): void {
    const write = this.#writes.get(id);
    this.#writes.delete(id);
    if (write !== undefined) how(write);
  }

  #end(why: string): void {
    if (this.#endedWhy !== null) return;
    this.#endedWhy = why;
    const problem = new Error(why);
    this.#opened?.reject(problem);
    for (const write of this.#writes.values()) write.reject(problem);
    this.#writes.clear();
    this.#listener.onLost(why);
  }
}

/** What stands in the way of opening, and the cure. */
export function notOpenInWords(path: string, code: string, why: string): string {
  switch (code) {
    case 'in-use':
      return `${path} is in use by ${why}; close that program`;
    case 'ENOENT':
      return `${path} is not there; switch the instrument on, plug it in, or check the path`;
    case 'ENODEV':
    case 'ENXIO':
      return `${path} has no instrument behind it; plug it in, or check the path`;
    case 'EACCES':
    case 'EPERM':
      return `no permission to open ${path}; give your user the right to it with a udev rule`;
    default:
      return `${path} does not open (${why}); unplug the instrument and plug it in again`;
  }
}
