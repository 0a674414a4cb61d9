import { spawn } from 'node:child_process';

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
    const child = spawn(program, args, {
      stdio: ['pipe', 'ignore', 'pipe'],
      shell: false,
      windowsHide: true,
      detached: process.platform !== 'win32',
    });
    let complaint = '';
    const stop = (): void => {
      kill(child.pid, () => child.kill('SIGKILL'));
      reject(new Error('it took too long and was ended'));
    };
    signal.addEventListener('abort', stop, { once: true });
    child.stderr.on('data', (bytes: Buffer) => {
      if (complaint.length < MOST_COMPLAINT) complaint += bytes.toString('utf8');
    });
    // A program that doesn't read its input breaks the pipe; its exit code says how it went.
    child.stdin.on('error', () => undefined);
    child.stdin.end(`${text}\n`);
    child.on('error', (error) => {
      signal.removeEventListener('abort', stop);
      reject(new Error(startTrouble(program, error)));
    });
    child.on('exit', (code, killedBy) => {
      signal.removeEventListener('abort', stop);
      if (code === 0) resolve();
      else reject(new Error(`it ended with ${killedBy ?? `code ${code}`}${complaintWords(complaint)}`));
    });
  });
}

function kill(pid: number | undefined, otherwise: () => void): void {
  try {
    if (pid === undefined || process.platform === 'win32') otherwise();
    else process.kill(-pid, 'SIGKILL');
  } catch {
    otherwise();
  }
}

function startTrouble(program: string, error: Error): string {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'ENOENT') return `there is no program ${program}; check its path`;
  if (code === 'EACCES') return `${program} may not be run; make it executable`;
  return `${program} could not be started: ${error.message}`;
}

function complaintWords(complaint: string): string {
  const line = complaint.trim().split('\n', 1)[0]?.slice(0, MOST_COMPLAINT) ?? '';
  return line === '' ? '' : `: ${line}`;
}
