// Runs a program at this one's terminal and writes to a file how it ended: FILE PROGRAM [ARGUMENT ...]. Outlives the terminal.
import { spawn } from 'node:child_process';
import { writeFileSync } from 'node:fs';

const [file, ...args] = process.argv.slice(2);
process.on('SIGHUP', () => undefined);
spawn(process.execPath, args, { stdio: 'inherit' }).once('exit', (code, signal) => {
  writeFileSync(file, JSON.stringify([code, signal]));
  // Node itself can't end in order where its terminal is gone.
  process.kill(process.pid, 'SIGKILL');
});
