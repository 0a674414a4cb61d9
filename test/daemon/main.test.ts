import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { MAIN, runCommand } from './run-command.js';

const EXAMPLES = fileURLToPath(new URL('../../daemon/design/examples/signal-cabin/', import.meta.url));
const DESIGN = join(EXAMPLES, 'signal-cabin.design.yaml');
const folder = mkdtempSync(join(tmpdir(), 'railminder-main-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

function written(name: string, text: string): string {
  const file = join(folder, name);
  writeFileSync(file, text);
  return file;
}

const wrongDesign = () =>
  written(
    'wrong.design.yaml',
    readFileSync(DESIGN, 'utf8').replace(/capacity_uF: \d+/, 'capacity_uF: -4700'),
  );

describe('the command line', () => {
  it.each(['watch', 'design', 'predict', 'ports', 'replay', 'simulate', 'demo'])(
    '%s --help says how it is used',
    async (name) => {
      const { code, stdout } = await runCommand(name, '--help');
      expect(code).toBe(0);
      expect(stdout).toMatch(new RegExp(`^railminder ${name}`));
    },
  );

  it('lists its commands', async () => {
    const { code, stdout } = await runCommand('--help');
    expect(code).toBe(0);
    for (const name of ['watch', 'predict', 'ports', 'replay', 'simulate'])
      expect(stdout).toContain(`  ${name} `);
  });

  it.each([
    [['wathc'], /"wathc" is not a command/],
    [['predict'], /a file is missing\nUse: railminder predict DESIGN/],
    [['predict', DESIGN, '--load', 'heavy'], /--load: found "heavy"; allowed are idle, typical, full/],
    [['predict', DESIGN, '--mains', 'lots'], /--mains: found "lots"; a number from 1 to 1000 is allowed/],
    [['predict', DESIGN, '--colour'], /Unknown option '--colour'/],
    [['predict', 'nowhere.design.yaml'], /nowhere\.design\.yaml: there is no such file/],
    [['watch', DESIGN, '--bench', 'nowhere.bench.yaml'], /nowhere\.bench\.yaml: there is no such file/],
    [['replay', DESIGN, '--fast'], /signal-cabin\.design\.yaml/],
    [['simulate', DESIGN, '--fault', 'gremlins'], /--fault: found "gremlins"; allowed are none, /],
  ])('%j is bad use: a message and exit code 2', async (args, message) => {
    const { code, stdout, stderr } = await runCommand(...args);
    expect(stderr).toMatch(message);
    expect(stderr).not.toMatch(/\n\s+at /);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  });

  it('predict --faults draws the fault clouds on a thread of its own and prints them', async () => {
    const { stdout } = await runCommand('predict', DESIGN, '--load', 'full', '--faults', '--json');
    const { points, faults } = JSON.parse(stdout) as {
      points: Record<string, { high: number }>;
      faults: { fault: string; about: string; points: Record<string, { low: number }> }[];
    };
    expect(faults.length).toBeGreaterThan(10);
    const missing = faults.find(({ fault, about }) => fault === 'heatsink-missing' && about === 'logic');
    expect(missing?.points['logic.case']?.low).toBeGreaterThan(points['logic.case']?.high ?? Infinity);
  });

  it('a wrong design starts nothing: file, line and key, exit code 2', async () => {
    const { code, stderr } = await runCommand('predict', wrongDesign());
    expect(stderr).toMatch(/wrong\.design\.yaml:\d+ reservoir\.capacity_uF: found -4700; /);
    expect(code).toBe(2);
  });

  it('a bench with an unknown driver or a wrong option starts nothing: file, line and key, exit code 2', async () => {
    const bench = written(
      'wrong.bench.yaml',
      'bench: b\ninstruments:\n  one:\n    driver: tea-leaves\n    link: { serial: /dev/null }\n' +
        '  two:\n    driver: text-lines\n    link: { serial: /dev/null }\n    options: { patern: "T1: {logic.case} C" }\n',
    );
    const { code, stderr } = await runCommand('watch', DESIGN, '--bench', bench);
    expect(stderr).toMatch(
      /wrong\.bench\.yaml:4 instruments\.one\.driver: found "tea-leaves"; there is no such driver/,
    );
    expect(stderr).toMatch(/wrong\.bench\.yaml:\d+ instruments\.two\.options/);
    expect(code).toBe(2);
  });
});

describe('watch', () => {
  it('says on the terminal when it cannot record or find an instrument, and watches on', async () => {
    const bench = written(
      'absent.bench.yaml',
      'bench: b\ninstruments:\n  probes:\n    driver: text-lines\n    link: { serial: /dev/none }\n' +
        '    options: { pattern: "T1: {logic.case} C" }\n',
    );
    const nowhere = join(written('a-file', ''), 'recordings');
    const watching = spawn(process.execPath, [
      MAIN,
      ...['watch', DESIGN, '--bench', bench, '--port', '0', '--recordings', nowhere],
    ]);
    let said = '';
    watching.stdout.on('data', (text: Buffer) => (said += text.toString()));
    const closed = once(watching, 'close');
    await expect
      .poll(() => said, { timeout: 15_000 })
      .toMatch(/ALARM \(medium, first\) The instrument probes is not there: /);
    expect(said).toMatch(/ALARM \(medium, first\) The recording is not being written: .*a-file/);
    watching.kill('SIGINT');
    expect(await closed).toEqual([0, null]);
    expect(said).toMatch(/Not everything could be recorded/);
  });
});

describe('predict', () => {
  it('prints a table that fits 100 columns, and exits 0 when nothing is outside', async () => {
    const { code, stdout } = await runCommand('predict', DESIGN);
    expect(code).toBe(0);
    for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(100);
    expect(stdout).toMatch(/logic\.case\s+\d+/);
  });

  it('exits 1 when something will be destroyed, and gives all of it as JSON', async () => {
    const bare = readFileSync(DESIGN, 'utf8').replace(/heatsink: [\d.]+/g, 'heatsink: none');
    const { code, stdout } = await runCommand('predict', written('bare.design.yaml', bare), '--json');
    expect(code).toBe(1);
    const prediction = JSON.parse(stdout) as { points: Record<string, { unit: string; typical: number }> };
    expect(prediction.points['logic.case']).toMatchObject({ unit: 'degC' });
    expect(prediction.points['logic.case']?.typical).toBeGreaterThan(100);
  });
});

it('ports lists what there is, or says that there is nothing', async () => {
  const { code, stdout } = await runCommand('ports');
  expect(code).toBe(0);
  expect(stdout.trim()).not.toBe('');
});
