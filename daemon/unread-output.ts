import { EXIT } from './command-line.js';
import { errorCode } from './record/disk.js';

/** So much that nobody has read yet waits for a reader; what comes on top is left out. */
const MOST_WAITING_BYTES = 4 * 1024 * 1024;
/** How long the last lines have for somebody to read them. */
const LONGEST_GOODBYE_MS = 1000;

const streams = (): readonly NodeJS.WriteStream[] => [process.stdout, process.stderr];
let isNeeded = false;

/** Output that nobody reads any more, as behind `head`, ends a program that only prints; call before the first line. */
export function endWhenUnread(): void {
  for (const stream of streams()) {
    stream.on('error', (error) => {
      // A terminal that is gone (EIO), a full disk behind `>`: the page and the recording are there all the same.
      if (isNeeded) return;
      if (errorCode(error) !== 'EPIPE') throw error;
      process.exit(EXIT.fine);
    });
  }
}

/** From now on the program goes on when what it prints goes nowhere: a session watches and records all the same. */
export function goOnUnread(): void {
  isNeeded = true;
  for (const stream of streams()) neverWait(stream);
}

/** Call at the end: what still waits for a reader then keeps the program for a moment only. */
export function leaveUnread(): void {
  if (!isNeeded) return;
  setTimeout(() => {
    if (streams().some(({ writableLength }) => writableLength > 0)) process.exit();
  }, LONGEST_GOODBYE_MS).unref();
}

/** A terminal that is held (Ctrl-S), or whose line hangs, would else stop the whole program at its next line. */
function neverWait(stream: NodeJS.WriteStream): void {
  handleOf(stream)?.setBlocking?.(false);
  const write = stream.write.bind(stream) as (...args: unknown[]) => boolean;
  stream.write = (...args: unknown[]) => stream.writableLength <= MOST_WAITING_BYTES && write(...args);
}

/** Node makes writing to a terminal wait, and has no public way to ask for the other. */
function handleOf(stream: object): { readonly setBlocking?: (blocking: boolean) => void } | null {
  return '_handle' in stream ? (stream._handle as ReturnType<typeof handleOf>) : null;
}
