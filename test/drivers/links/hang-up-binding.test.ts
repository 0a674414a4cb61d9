import { execFileSync } from 'node:child_process';
import { closeSync, constants, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hangUpBinding, type Binding, type OpenPort } from '../../../drivers/links/hang-up-binding.js';
import { settle } from './settle.js';

/** A terminal that has hung up reads like the empty device: zero bytes, again and again (read(2), POSIX.1). */
const HUNG_UP = '/dev/null';

describe.skipIf(process.platform === 'win32')('hangUpBinding', () => {
  let fd: number;
  let log: string[];
  let original: Binding<string>;

  beforeEach(() => {
    fd = openSync(HUNG_UP, 'r');
    log = [];
    const port = {
      fd,
      isOpen: true,
      poller: { once: () => undefined },
      read: () => Promise.reject(new Error('the original must not be asked')),
      close: () => Promise.resolve(void log.push('closed')),
    };
    original = { list: () => Promise.resolve([]), open: () => Promise.resolve(port as OpenPort) };
  });

  afterEach(() => closeSync(fd));

  it('takes a read of no bytes for a hang-up', async () => {
    const port = await hangUpBinding(original).open('any');
    await expect(port.read(Buffer.alloc(8), 0, 8)).rejects.toMatchObject({ disconnect: true });
  });

  it('ends reads with a cancellation once it is closing', async () => {
    const port = await hangUpBinding(original).open('any');
    const closed = port.close();
    await expect(port.read(Buffer.alloc(8), 0, 8)).rejects.toMatchObject({ canceled: true });
    await closed;
    expect(log).toEqual(['closed']);
  });

  it('closes the descriptor only when the read in progress has ended', async () => {
    const directory = mkdtempSync(join(tmpdir(), 'railminder-fifo-'));
    const path = join(directory, 'fifo');
    execFileSync('mkfifo', [path]); // a read of it lasts until something is written
    closeSync(fd);
    fd = openSync(path, constants.O_RDWR);
    const port = await hangUpBinding({
      ...original,
      open: async () => ({ ...(await original.open('any')), fd }),
    }).open('any');
    const read = port.read(Buffer.alloc(8), 0, 8);
    const closed = port.close();
    await settle();
    expect(log).toEqual([]);
    writeSync(fd, 'x');
    expect(await read).toMatchObject({ bytesRead: 1 });
    await closed;
    expect(log).toEqual(['closed']);
    rmSync(directory, { recursive: true });
  });

  it('leaves the binding of Windows as it is', () => {
    expect(hangUpBinding(original, 'win32')).toBe(original);
  });
});
