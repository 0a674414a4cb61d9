// Types, rules and layout of every source file, side by side: each keeps one core busy for a minute.
import { spawn } from 'node:child_process';
import { once } from 'node:events';

const CHECKS = [
  ['npm', 'run', '--silent', 'lint', '--', 'daemon', 'drivers', 'web', 'test'],
  ['tsc', '-p', 'tsconfig.json'],
  ['prettier', '--check', '--log-level', 'warn', '.'],
];

const codes = await Promise.all(
  CHECKS.map(async ([name, ...args]) => {
    const [code] = await once(
      spawn(name, args, { stdio: 'inherit', shell: process.platform === 'win32' }),
      'exit',
    );
    if (code !== 0) console.error(`${name} is not content (exit code ${code}): mend what it says above`);
    return code;
  }),
);
process.exitCode = codes.every((code) => code === 0) ? 0 : 1;
