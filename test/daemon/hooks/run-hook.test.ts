import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { runProgram } from '../../../daemon/hooks/run-hook.js';

const never = new AbortController().signal;
const node = (script: string, ...args: string[]): string[] => [process.execPath, '-e', script, ...args];

describe('a program that is run', () => {
  it('gets the text on its standard input and its arguments as they are, without a shell', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-hook-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const file = join(folder, 'got');
    const script =
      "let t='';process.stdin.on('data',d=>t+=d).on('end',()=>require('fs').writeFileSync(process.argv[1],t+process.argv[2]))";
    await runProgram(node(script, file, '$HOME; echo `id` "x"'), '{"alarm":"a"}', never);
    expect(await readFile(file, 'utf8')).toBe('{"alarm":"a"}\n$HOME; echo `id` "x"');
  });

  it('that ends otherwise than with 0 is told with its code and its first complaint', async () => {
    const script = "process.stderr.write('no siren here\\nand more');process.exitCode=3";
    await expect(runProgram(node(script), '{}', never)).rejects.toThrow(
      /^it ended with code 3: no siren here$/,
    );
  });

  it('that isn’t there is told with the cure', async () => {
    await expect(runProgram(['/nowhere/siren'], '{}', never)).rejects.toThrow(
      /no program \/nowhere\/siren; check/,
    );
  });

  it('that reads nothing and takes no notice of a long text is fine', async () => {
    await expect(runProgram(node(''), 'x'.repeat(1e6), never)).resolves.toBeUndefined();
  });

  it('that closes its input before it is told, and ends well, is fine', async () => {
    const script = "require('fs').closeSync(0);setTimeout(()=>0,50)";
    await expect(runProgram(node(script), 'x'.repeat(1e6), never)).resolves.toBeUndefined();
  });

  it('that is killed is told with the signal', async () => {
    const script = "process.kill(process.pid,'SIGKILL')";
    await expect(runProgram(node(script), '{}', never)).rejects.toThrow(/^it ended with SIGKILL$/);
  });

  it('that hangs is ended, with what it started', async () => {
    const ending = new AbortController();
    // It tells the number of its own child, then both hang.
    const folder = await mkdtemp(join(tmpdir(), 'railminder-hook-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const file = join(folder, 'pid');
    const script =
      "const c=require('child_process').spawn(process.execPath,['-e','setInterval(()=>0,1e3)']);require('fs').writeFileSync(process.argv[1],String(c.pid));setInterval(()=>0,1e3)";
    const running = runProgram(node(script, file), '{}', ending.signal);
    const read = (): Promise<string> => readFile(file, 'utf8').catch(() => '');
    let pid = await read();
    while (pid === '') {
      await new Promise((resolve) => setTimeout(resolve, 20));
      pid = await read();
    }
    ending.abort();
    await expect(running).rejects.toThrow(/took too long and was ended/);
    // Killed, it is a zombie until whoever inherits it has taken note.
    const isGone = async (): Promise<boolean> => {
      const stat = await readFile(`/proc/${pid}/stat`, 'utf8').catch(() => ') Z ');
      return stat.includes(') Z ');
    };
    while (!(await isGone())) await new Promise((resolve) => setTimeout(resolve, 20));
  });

  it('that leaves something running keeps whoever ran it from ending no longer', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'railminder-hook-'));
    onTestFinished(() => rm(folder, { recursive: true, force: true }));
    const left = join(folder, 'left');
    // It ends as soon as it is let, so that nothing is left of this test.
    const command = ['sh', '-c', `touch ${left}; while [ -e ${left} ]; do sleep 0.05; done & exit 0`];
    const ran = spawn(
      process.execPath,
      [
        '--input-type=module',
        '--eval',
        `const { runProgram } = await import(process.argv[1]);
         await runProgram(JSON.parse(process.argv[2]), '{}', new AbortController().signal);`,
        new URL('../../../dist/daemon/hooks/run-hook.js', import.meta.url).href,
        JSON.stringify(command),
      ],
      { stdio: 'inherit' },
    );
    onTestFinished(() => void ran.kill('SIGKILL'));
    expect(await once(ran, 'exit')).toEqual([0, null]);
  });
});
