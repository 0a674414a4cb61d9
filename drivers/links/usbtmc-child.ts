import { constants } from 'node:fs';
import { open, stat, type FileHandle } from 'node:fs/promises';
import { setTimeout } from 'node:timers/promises';
import { openBy, openByWords } from './open-by.js';
import type { DeviceMessage, WriteMessage } from './usbtmc-messages.js';
import { UsbtmcTalk } from './usbtmc-talk.js';

/**
 * A process of its own for one device file: reads of such a file block for seconds, hold a thread each and can't be
 * called off, so it is here that they do, and this process can be killed.
 */
void serve(process.argv[2] ?? '');
process.on('disconnect', endNow);

async function serve(path: string): Promise<void> {
  const file = await openDevice(path);
  if (file === null) return endNow();
  const talk = new UsbtmcTalk({
    file: {
      read: async (length) => {
        const { buffer, bytesRead } = await file.read(new Uint8Array(length), 0, length, null);
        return buffer.subarray(0, bytesRead);
      },
      async write(bytes) {
        for (let sent = 0; sent < bytes.length;) {
          sent += (await file.write(bytes, sent, bytes.length - sent, null)).bytesWritten;
        }
      },
      present: () => leadsTo(path, file),
    },
    async tell(message) {
      await tell(message);
      if (message.kind === 'gone') endNow();
    },
    pause: (ms) => setTimeout(ms),
  });
  process.on('message', (message) => void talk.write(message as WriteMessage));
  await tell({ kind: 'open' });
}

/** A device that was pulled out and put back has another device file under the same path. */
async function leadsTo(path: string, file: FileHandle): Promise<boolean> {
  const [there, opened] = await Promise.all([stat(path).catch(() => null), file.stat()]);
  return there !== null && there.dev === opened.dev && there.ino === opened.ino;
}

/** Null when it didn't open, which has been told. */
async function openDevice(path: string): Promise<FileHandle | null> {
  try {
    // The system lets two programs open such a file, and each gets a part of the answers.
    const users = await openBy(path);
    if (users.length > 0) {
      await tell({ kind: 'not-open', code: 'in-use', why: openByWords(users) });
      return null;
    }
    return await open(path, constants.O_RDWR | constants.O_NOCTTY);
  } catch (problem) {
    const code = problem instanceof Error && 'code' in problem ? String(problem.code) : 'unknown';
    await tell({ kind: 'not-open', code, why: problem instanceof Error ? problem.message : String(problem) });
    return null;
  }
}

function tell(message: DeviceMessage): Promise<void> {
  return new Promise((resolve) => {
    if (!process.connected) return resolve();
    process.send?.(message, undefined, undefined, () => resolve());
  });
}

/** At once: an ordinary exit would wait for a read that blocks. */
function endNow(): void {
  process.kill(process.pid, 'SIGKILL');
}
