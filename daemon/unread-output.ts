import { EXIT } from './command-line.js';
import { errorCode } from './record/disk.js';

let isNeeded = false;

/** Output that nobody reads any more, as behind `head`, ends a program that only prints; call before the first line. */
export function endWhenUnread(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error) => {
      if (errorCode(error) !== 'EPIPE') throw error;
      if (!isNeeded) process.exit(EXIT.fine);
    });
  }
}

/** From now on the program goes on when nobody reads it: a session watches and records all the same. */
export function goOnUnread(): void {
  isNeeded = true;
}
