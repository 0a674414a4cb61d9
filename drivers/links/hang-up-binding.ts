import { read } from 'node:fs';
import { promisify } from 'node:util';
/** As much as this file relies on of a port that serialport's binding has opened. */
export interface OpenPort {
  readonly isOpen: boolean;
  read(buffer: Buffer, offset: number, length: number): Promise<{ buffer: Buffer; bytesRead: number }>;
  close(): Promise<void>;
}

/** As much as this file relies on of serialport's binding. */
export interface Binding<Options> {
  list(): Promise<{ path: string }[]>;
  open(options: Options): Promise<OpenPort>;
}

/** What the ports of the POSIX bindings have beside that. */
interface PosixPort extends OpenPort {
  readonly fd: number | null;
  readonly poller: {
    once(event: 'readable', listener: (problem: Error | null) => void): unknown;
  };
}

const readFile = promisify(read);
/** A non-blocking read that found nothing, or a signal: wait for the terminal to say that it can be read. */
const TRY_AGAIN = new Set(['EAGAIN', 'EWOULDBLOCK', 'EINTR']);

/**
 * serialport's binding with one thing changed on POSIX: a read that gives no bytes means that the terminal hung
 * up. The original reads again for ever then, so that an unplugged device is never noticed. On Windows the
 * binding is returned as it is.
 */
export function hangUpBinding<Options>(
  original: Binding<Options>,
  platform: string = process.platform,
): Binding<Options> {
  if (platform === 'win32') return original;
  return {
    list: () => original.list(),
    open: async (options) => noticeHangUp((await original.open(options)) as PosixPort),
  };
}

/** Replaces `read` and `close` on this one port object. */
function noticeHangUp(port: PosixPort): OpenPort {
  const closeOriginal = port.close.bind(port);
  let closing = false;
  let reading: Promise<unknown> = Promise.resolve();

  async function readSome(buffer: Buffer, offset: number, length: number): Promise<number> {
    if (closing || port.fd === null) throw canceled();
    const reads = readFile(port.fd, buffer, offset, length, null);
    reading = reads.catch(() => undefined);
    const { bytesRead } = await reads;
    if (bytesRead === 0) throw hungUp();
    return bytesRead;
  }

  port.read = async (buffer, offset, length) => {
    for (;;) {
      try {
        return { buffer, bytesRead: await readSome(buffer, offset, length) };
      } catch (problem) {
        if (!TRY_AGAIN.has((problem as NodeJS.ErrnoException).code ?? '')) throw problem;
      }
      if (closing) throw canceled();
      await readable(port);
    }
  };
  port.close = async () => {
    closing = true;
    await reading; // the descriptor's number may be given to another file as soon as it is closed
    await closeOriginal();
  };
  return port;
}

function readable(port: PosixPort): Promise<void> {
  return new Promise((resolve, reject) => {
    port.poller.once('readable', (problem) => (problem === null ? resolve() : reject(problem)));
  });
}

function hungUp(): Error {
  return Object.assign(new Error('the device hung up'), { disconnect: true });
}

function canceled(): Error {
  return Object.assign(new Error('the port is closed'), { canceled: true });
}
