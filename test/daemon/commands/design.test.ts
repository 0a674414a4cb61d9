import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { answered } from '../../../daemon/dialogue.js';
import { newFileName } from '../../../daemon/new-file.js';
import { loadDesign } from '../../../daemon/design/load.js';
import { newDesignQuestions } from '../../../daemon/design/new-questions.js';
import { MAIN, type CommandResult } from '../run-command.js';

const folder = mkdtempSync(join(tmpdir(), 'railminder-design-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Runs the built program in the folder with these lines typed. */
async function typing(lines: readonly string[], ...args: string[]): Promise<CommandResult> {
  const child = spawn(process.execPath, [MAIN, 'design', ...args], { cwd: folder });
  const text = { stdout: '', stderr: '' };
  child.stdout.on('data', (data: Buffer) => (text.stdout += data.toString()));
  child.stderr.on('data', (data: Buffer) => (text.stderr += data.toString()));
  child.stdin.end(lines.map((line) => `${line}\n`).join(''));
  const [code] = (await once(child, 'close')) as [number];
  return { code, ...text };
}

const ENTERS = Array.from({ length: 13 }, () => '');

describe('railminder design new', () => {
  it('writes what was answered and says what is next', async () => {
    const { code, stdout } = await typing(['Yard lamp', ...ENTERS], 'new');
    expect(code).toBe(0);
    expect(stdout).toMatch(
      /Written: yard-lamp\.design\.yaml\. .*railminder predict yard-lamp\.design\.yaml\n$/,
    );
    const text = readFileSync(join(folder, 'yard-lamp.design.yaml'), 'utf8');
    expect(loadDesign(text, 'x').design).toBe('Yard lamp');
    expect(text).toMatch(/^# MAINS KILLS/m);
  });

  it('asks again what can not be', async () => {
    const { code, stdout } = await typing(['x', '110', '120', ...ENTERS], 'new', 'again.design.yaml');
    expect(code).toBe(0);
    expect(stdout).toContain('found "110"; 230 or 120 is allowed');
    expect(readFileSync(join(folder, 'again.design.yaml'), 'utf8')).toContain('volts: 120 ');
  });

  it('never overwrites', async () => {
    writeFileSync(join(folder, 'mine.design.yaml'), 'mine');
    const named = await typing([], 'new', 'mine.design.yaml');
    expect(named).toMatchObject({ code: 2, stdout: '' });
    expect(named.stderr).toBe(
      'mine.design.yaml: stands there already and is never overwritten; name another file\n',
    );
    const derived = await typing(['mine', ...ENTERS], 'new');
    expect(derived.code).toBe(2);
    expect(readFileSync(join(folder, 'mine.design.yaml'), 'utf8')).toBe('mine');
  });

  it('writes nothing when the answers end', async () => {
    const { code, stderr } = await typing(['x', ''], 'new', 'half.design.yaml');
    expect(code).toBe(2);
    expect(stderr).toBe('\nNo more answers came; nothing was written.\n');
    expect(existsSync(join(folder, 'half.design.yaml'))).toBe(false);
  });

  it('tells a folder that is not there, and another word than new', async () => {
    const lost = await typing(['x', ...ENTERS], 'new', 'nowhere/x.design.yaml');
    expect(lost.stderr).toMatch(/^nowhere\/x\.design\.yaml: there is no such folder; /);
    const old = await typing([], 'old');
    expect(old).toMatchObject({
      code: 2,
      stderr: '"old" is not known; allowed is new\nUse: railminder design new [FILE]\n',
    });
  });
});

describe('its parts', () => {
  it.each([
    ['my supply', 'my-supply.design.yaml'],
    ['../../etc/passwd', 'etc-passwd.design.yaml'],
    ['水路', 'supply.design.yaml'],
  ])('%s goes to %s', (name, file) => {
    expect(newFileName(name, 'design')).toBe(file);
  });

  it('prints each question with what Enter takes', async () => {
    const printed: string[] = [];
    const lines: AsyncIterator<string> = {
      next: () => Promise.resolve({ done: true, value: undefined }),
    };
    expect(await answered(newDesignQuestions(), lines, (text) => printed.push(text))).toBeNull();
    expect(printed).toEqual(['What is the supply called? [my supply] ']);
  });
});
