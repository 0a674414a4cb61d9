import { EXIT } from './command-line.js';
import { errorCode } from './record/disk.js';

let isNeeded = false;

/** Output that nobody reads any more, as behind `head`, ends a program that only prints; call before the first line. */
export function endWhenUnread(): void {
  for (const stream of [process.stdout, process.stderr]) {
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
}
