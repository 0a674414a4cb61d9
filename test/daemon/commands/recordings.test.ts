import { execFileSync, spawn } from 'node:child_process';
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Papa from 'papaparse';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MAIN, runCommand } from '../run-command.js';

const SAMPLES = fileURLToPath(new URL('../../../recordings/', import.meta.url));
const DESIGN = fileURLToPath(
  new URL('../../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);
const folder = mkdtempSync(join(tmpdir(), 'railminder-recordings-'));
const healthy = join(folder, 'healthy.ndjson');

beforeAll(() => copyFileSync(join(SAMPLES, 'healthy.ndjson'), healthy));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('commands on recordings', () => {
  it('recordings says intact of what is, and otherwise exits 1', async () => {
    const fine = await runCommand('recordings', folder);
    expect(fine).toMatchObject({
      code: 0,
      stdout: expect.stringMatching(/healthy\.ndjson .* 12:00 .*intact +none/) as string,
    });
    writeFileSync(
      join(folder, 'x.ndjson'),
      readFileSync(healthy, 'utf8').replace('nothing smells', 'something smells'),
    );
    const changed = await runCommand('recordings', folder);
    expect(changed.code).toBe(1);
    expect(changed.stdout).toMatch(/x\.ndjson .*changed since it was closed/);
    rmSync(join(folder, 'x.ndjson'));
  });

  it('shows what a stranger put into a recording, and lets no terminal and no page obey it', async () => {
    const strange = join(folder, 'strange.ndjson');
    const sign = (text: string): string => JSON.stringify(`${text}\u001b[2J\u202e`).slice(1, -1);
    const text = readFileSync(join(SAMPLES, 'heatsink-missing.ndjson'), 'utf8')
      .replaceAll('"label":"logic regulator tab', `"label":"${sign('strange tab')}`)
      .replace('"file":"signal-cabin.design.yaml"', `"file":"${sign('strange.design.yaml')}"`);
    writeFileSync(strange, text);
    const replayed = await runCommand('replay', strange, '--fast');
    await runCommand('report', strange);
    const page = readFileSync(join(folder, 'strange.html'), 'utf8');
    for (const name of ['strange.ndjson', 'strange.html']) rmSync(join(folder, name));
    for (const shown of [replayed.stdout, page]) {
      expect(shown).toMatch(/[Ss]trange tab·\[2J·/);
      expect(shown).toContain('strange.design.yaml·[2J·');
      expect(shown).not.toMatch(/[\u001b\u202e]/);
    }
  });

  it('pack makes what gzip takes and every command reads, and leaves the file', async () => {
    expect((await runCommand('recordings', 'pack', healthy)).code).toBe(0);
    execFileSync('gzip', ['-t', `${healthy}.gz`]);
    const packed = await runCommand('export', `${healthy}.gz`, '--csv', 'readings');
    const plain = await runCommand('export', healthy, '--csv', 'readings');
    expect(packed).toEqual(plain);
    expect((await runCommand('recordings', 'pack', healthy)).stderr).toMatch(/there is such a file already/);
  });

  it('export gives a table that a CSV package reads, with every test point of the design', async () => {
    const { code, stdout } = await runCommand('export', healthy, '--every', '60000');
    const { data, errors } = Papa.parse<Record<string, string>>(stdout.trimEnd(), { header: true });
    expect({ code, errors }).toEqual({ code: 0, errors: [] });
    // Twelve minutes, and the last instant.
    expect(data).toHaveLength(13);
    expect(Number(data.at(-1)?.['logic.volts (V)'])).toBeCloseTo(5, 0);
    expect(data.at(-1)).toHaveProperty('logic.case (degC)');
  });

  it('export --csv extremes gives a stretch of time in as many lines as wanted, and keeps an index beside it', async () => {
    const args = ['--csv', 'extremes', '--from', '1:00', '--to', '2:00', '--most', '6'];
    const { code, stdout } = await runCommand('export', healthy, ...args);
    const { data } = Papa.parse<Record<string, string>>(stdout.trimEnd(), { header: true });
    const logic = data.filter((line) => line['test point'] === 'logic.volts');
    expect(code).toBe(0);
    expect(logic).toHaveLength(6);
    for (const { lowest, mean, highest } of logic) {
      expect(Number(lowest)).toBeLessThanOrEqual(Number(mean));
      expect(Number(mean)).toBeLessThanOrEqual(Number(highest));
    }
    expect(readdirSync(folder)).toContain('.healthy.ndjson.overview');
    expect((await runCommand('export', healthy, ...args)).stdout).toBe(stdout);
    expect(
      (await runCommand('export', healthy, '--csv', 'extremes', '--from', '9:00', '--to', '8')).code,
    ).toBe(2);
  });

  it('never writes over the recording, and repairs into a copy', async () => {
    const over = await runCommand('export', healthy, '-o', healthy);
    expect(over).toMatchObject({
      code: 2,
      stderr: expect.stringMatching(/that is the recording itself/) as string,
    });
    const cut = join(folder, 'cut.ndjson');
    const whole = readFileSync(healthy);
    writeFileSync(cut, whole.subarray(0, Math.floor(whole.length * 0.7)));
    const { stdout } = await runCommand('recordings', 'repair', cut);
    expect(stdout).toMatch(/cut-repaired\.ndjson: \d+ lines kept, 1 damaged/);
    expect((await runCommand('replay', join(folder, 'cut-repaired.ndjson'), '--fast')).stdout).toMatch(
      /closed properly/,
    );
  });

  it('replay --against says what another design makes of the session', async () => {
    const bare = join(folder, 'bare.design.yaml');
    writeFileSync(bare, readFileSync(DESIGN, 'utf8').replace(/heatsink: 8$/m, 'heatsink: none'));
    const { stdout } = await runCommand(
      'replay',
      join(SAMPLES, 'heatsink-missing.ndjson'),
      '--against',
      bare,
    );
    expect(stdout).toMatch(/changed: rails\.logic\.cooling\.heatsink: 8 -> none/);
    expect(stdout).toMatch(/logic\.case: outside by this design too/);
  });

  it('replay --from begins with what stands then', async () => {
    const { stdout } = await runCommand(
      'replay',
      join(SAMPLES, 'heatsink-missing.ndjson'),
      '--fast',
      '--from',
      '1:50',
    );
    expect(stdout).toMatch(/01:50 {2}standing: over-limit:logic\.case/);
    expect(stdout).not.toMatch(/00:52/);
    expect(stdout).toMatch(/01:56 {2}ALARM/);
  });
});

describe('note', () => {
  it('goes into the recording of the running session, with its photo', async () => {
    const photo = join(folder, 'dot.png');
    // The smallest PNG: one pixel (PNG specification, from memory).
    const bytes = Buffer.from(
      'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
      'base64',
    );
    writeFileSync(photo, bytes);
    const bench = join(folder, 'absent.bench.yaml');
    writeFileSync(
      bench,
      'bench: b\ninstruments:\n  probes:\n    driver: text-lines\n    link: { serial: /dev/none }\n    options: { pattern: "T1: {logic.case} C" }\n',
    );
    const place = join(folder, 'live');
    const watching = spawn(process.execPath, [
      MAIN,
      'watch',
      DESIGN,
      '--bench',
      bench,
      '--port',
      '0',
      '--recordings',
      place,
    ]);
    let said = '';
    watching.stdout.on('data', (text: Buffer) => (said += text.toString()));
    try {
      await expect.poll(() => said, { timeout: 15_000 }).toMatch(/http:\S+:\d+/);
      const port = /:(\d+)\//.exec(said)?.[1] ?? '';
      const { code, stdout } = await runCommand(
        'note',
        'bulb glows for a second',
        '--photo',
        photo,
        '--port',
        port,
      );
      expect({ code, stdout }).toMatchObject({
        code: 0,
        stdout: expect.stringMatching(/Noted in "signal cabin"/) as string,
      });
      const large = join(folder, 'large.png');
      writeFileSync(large, Buffer.concat([bytes, Buffer.alloc(2 * 1024 * 1024)]));
      expect((await runCommand('note', 'x', '--photo', large, '--port', port)).stderr).toMatch(
        /at most 2 MB/,
      );
    } finally {
      watching.kill('SIGINT');
      await new Promise((resolve) => watching.once('close', resolve));
    }
    const [file = ''] = readdirSync(place);
    const line = readFileSync(join(place, file), 'utf8')
      .split('\n')
      .find((one) => one.startsWith('{"kind":"note"'));
    expect(JSON.parse(line ?? '')).toMatchObject({
      text: 'bulb glows for a second',
      photo: { type: 'image/png', base64: bytes.toString('base64') },
    });
  }, 60_000);

  it('without a session says so', async () => {
    const { code, stderr } = await runCommand('note', 'x', '--port', '1');
    expect({ code, stderr }).toMatchObject({
      code: 2,
      stderr: expect.stringMatching(/no session answers there/) as string,
    });
  });
});
