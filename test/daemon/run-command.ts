import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The built program. */
export const MAIN = fileURLToPath(new URL('../../dist/daemon/main.js', import.meta.url));

export interface CommandResult {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the built program to its end, as a person would at a terminal. */
export function runCommand(...args: string[]): Promise<CommandResult> {
  return new Promise((resolve) => {
    execFile(process.execPath, [MAIN, ...args], { maxBuffer: 64 * 1024 * 1024 }, (error, stdout, stderr) => {
      resolve({ code: error === null ? 0 : Number(error.code), stdout, stderr });
    });
  });
}
