import { spawn, type ChildProcess } from 'node:child_process';
import { Socket } from 'node:net';
import { errorCode } from '../record/disk.js';

/** So much of what a program complains of is told. */
const MOST_COMPLAINT = 300;

/**
 * Runs a program with its arguments, without a shell, and hands it the text on its standard input. Resolves when it
 * ends with code 0.
 */
export function runProgram(command: readonly string[], text: string, signal: AbortSignal): Promise<void> {
  const [program = '', ...args] = command;
  return new Promise((resolve, reject) => {
    // A group of its own, so that whatever it starts ends with it.
    const child = started(program, args);
    let complaint = '';
    const stop = (): void => {
      kill(child.pid, () => child.kill('SIGKILL'));
      reject(new Error('it took too long and was ended'));
    };
    signal.addEventListener('abort', stop, { once: true });
    child.on('error', (error) => {
      signal.removeEventListener('abort', stop);
      reject(new Error(startTrouble(program, error)));
    });
    // What is wrong with a pipe is no news: the program's exit code, or that it didn't start, says how it went.
    child.stderr?.on('error', () => undefined);
    child.stderr?.on('data', (bytes: Buffer) => {
      if (complaint.length < MOST_COMPLAINT) complaint += bytes.toString('utf8');
    });
    child.stdin?.on('error', () => undefined);
    child.stdin?.end(`${text}\n`);
    child.on('exit', (code, killedBy) => {
      signal.removeEventListener('abort', stop);
      // What it left running, a siren for example, may hold the pipe for long; that keeps no session from ending.
      if (child.stderr instanceof Socket) child.stderr.unref();
      if (code === 0) resolve();
      else reject(new Error(`it ended with ${killedBy ?? `code ${code}`}${complaintWords(complaint)}`));
    });
  });
}

/** It has no pipes where no more files can be opened; then, as with other trouble, it says `error` later. */
function started(program: string, args: readonly string[]): ChildProcess {
  try {
    return spawn(program, args, {
      stdio: ['pipe', 'ignore', 'pipe'],
      shell: false,
      windowsHide: true,
      detached: process.platform !== 'win32',
    });
  } catch (problem) {
    throw new Error(startTrouble(program, problem), { cause: problem });
  }
}

function kill(pid: number | undefined, otherwise: () => void): void {
  try {
    if (pid === undefined || process.platform === 'win32') otherwise();
    else process.kill(-pid, 'SIGKILL');
  } catch {
    otherwise();
  }
}

function startTrouble(program: string, error: unknown): string {
  const code = errorCode(error);
  switch (code) {
    case 'ENOENT':
      return `there is no program ${program}; check its path`;
    case 'EACCES':
    case 'EPERM':
      return `${program} may not be run; make it executable`;
    case 'EAGAIN':
      return `${program} could not be started: too many programs run; end some`;
    case 'EMFILE':
    case 'ENFILE':
      return `${program} could not be started: too many files are open; end other programs`;
    case 'ENOMEM':
      return `${program} could not be started: no memory is left; end other programs`;
    default:
      return `${program} could not be started (${code}); run it by hand`;
  }
}

function complaintWords(complaint: string): string {
  const line = complaint.trim().split('\n', 1)[0]?.slice(0, MOST_COMPLAINT) ?? '';
  return line === '' ? '' : `: ${line}`;
}
