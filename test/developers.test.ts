import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it, onTestFinished } from 'vitest';
import { joinInstruments } from '../daemon/channels.js';
import { loadBench } from '../daemon/design/load.js';
import { loadOutsideDrivers } from '../daemon/outside-drivers.js';
import { openPty } from '../drivers/simulated/pty.js';
import { runCommand } from './daemon/run-command.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const DESIGN = join(ROOT, 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml');

// Within the package, where its own name leads to what was built.
mkdirSync(join(ROOT, 'dist'), { recursive: true });
const folder = mkdtempSync(join(ROOT, 'dist', 'developers-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const [code = '', testCode = ''] = Array.from(
  readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8').matchAll(/```js\n([\s\S]*?)```/g),
  ([, block = '']) => block,
);
writeFileSync(join(folder, 'tenths-thermometer.mjs'), code);
writeFileSync(join(folder, 'tenths-thermometer.test.mjs'), testCode);

function benchNaming(driver: string) {
  const text = `bench: table\ninstruments:\n  probe:\n    driver: ${driver}\n    link: { tcp: 'localhost:1' }\n`;
  const file = join(folder, 'table.bench.yaml');
  writeFileSync(file, text);
  return { file, text, value: loadBench(text, file) };
}

const BENCH = benchNaming('./tenths-thermometer.mjs');
const drivers = await loadOutsideDrivers(BENCH, true);

function checked(tenths: number): string {
  const digits = String(tenths).padStart(4, '0');
  return `${digits}:${[...digits].reduce((sum, digit) => sum + Number(digit), 0) % 10}\r\n`;
}

describe('the example driver in DEVELOPERS.md', () => {
  it('is short', () => {
    expect(code.split('\n').length).toBeLessThanOrEqual(55);
  });

  it('compiles against the package as it is built', () => {
    const flags = [
      '--noEmit',
      '--allowJs',
      '--checkJs',
      '--module',
      'nodenext',
      '--target',
      'es2023',
      '--noImplicitAny',
      'false',
    ];
    const types = ['--types', 'node', '--skipLibCheck', '--ignoreConfig'];
    const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');
    const files = ['tenths-thermometer.mjs', 'tenths-thermometer.test.mjs'].map((file) => join(folder, file));
    try {
      execFileSync(process.execPath, [tsc, ...flags, ...types, ...files], { cwd: ROOT });
    } catch (problem) {
      expect.fail(String((problem as { readonly stdout: Buffer }).stdout));
    }
  }, 60_000);

  it('reads what its comment says', () => {
    expect(checked(413)).toBe('0413:8\r\n');
    expect(code).toContain('"0413:8" for 41.3 degrees C');
  });
});

describe('a driver from outside', () => {
  it('is joined like one of ours', () => {
    const [probe] = joinInstruments(BENCH, drivers);
    expect(probe?.driver.name).toBe('tenths-thermometer');
    expect(probe?.plans).toEqual([{ instrument: 'probe', channel: 'probe', intervalMs: 1000 }]);
  });

  it('is not run unless it is trusted', async () => {
    writeFileSync(join(folder, 'loud.mjs'), 'throw new Error("it ran");');
    await expect(loadOutsideDrivers(benchNaming('./loud.mjs'), false)).rejects.toThrow(
      /table\.bench\.yaml:4 .*"\.\/loud\.mjs"; that is a program from outside .* add --trust-drivers/,
    );
    await expect(loadOutsideDrivers(benchNaming('./loud.mjs'), true)).rejects.toThrow(
      /can't be loaded \(it ran\)/,
    );
  });

  it('has to be a driver', async () => {
    writeFileSync(join(folder, 'half.mjs'), 'export default { name: "half", reads: "nothing" };');
    await expect(loadOutsideDrivers(benchNaming('./half.mjs'), true)).rejects.toThrow(
      /its default export is no driver: channelsOf/,
    );
    await expect(loadOutsideDrivers(benchNaming('./nowhere.mjs'), true)).rejects.toThrow(
      /can't be loaded \(.*nowhere\.mjs.*\); check the path/,
    );
  });

  it('leaves a misspelt driver of ours to be told as one', async () => {
    const bench = benchNaming('text-line');
    expect((await loadOutsideDrivers(bench, false)).size).toBe(0);
    expect(() => joinInstruments(bench)).toThrow(/there is no such driver/);
  });

  it('is refused by watch without --trust-drivers', async () => {
    const { file } = benchNaming('./tenths-thermometer.mjs');
    const { code: exit, stderr } = await runCommand('watch', DESIGN, '--bench', file);
    expect(stderr).toMatch(/add --trust-drivers/);
    expect(exit).toBe(2);
  });
});

describe.skipIf(process.platform === 'win32')('watch with a driver from outside', () => {
  it('reads its device over a serial port', async () => {
    const path = join(folder, 'thermometer');
    const outlet = await openPty(path, 'python3', () => undefined);
    const { file } = benchNaming('./tenths-thermometer.mjs');
    writeFileSync(
      file,
      readFileSync(file, 'utf8').replace("{ tcp: 'localhost:1' }", `{ serial: '${path}' }`) +
        '    channels: { probe: { measures: temperature, at: logic.case } }\n',
    );
    const watching = spawn(process.execPath, [
      join(ROOT, 'dist/daemon/main.js'),
      ...['watch', DESIGN, '--bench', file, '--trust-drivers', '--json'],
      ...['--port', '0', '--recordings', join(folder, 'recordings')],
    ]);
    const closed = once(watching, 'close');
    const printing = setInterval(() => outlet.send(Buffer.from(checked(413))), 50);
    onTestFinished(async () => {
      clearInterval(printing);
      watching.kill('SIGKILL');
      await closed;
      await outlet.unplug();
    });
    let effects = '';
    watching.stdout.on('data', (text: Buffer) => (effects += text.toString()));
    await expect
      .poll(() => effects, { timeout: 20_000 })
      .toMatch(/"kind":"verdict","atMs":\d+,"point":"logic\.case","verdict":"\w+","value":41\.3/);
  });
});

describe('the test kit', () => {
  it('passes the example under node --test, and fails a driver that throws', () => {
    const file = join(folder, 'tenths-thermometer.test.mjs');
    const run = (path: string) =>
      spawnSync(process.execPath, ['--test', '--test-reporter=tap', path], { cwd: folder, encoding: 'utf8' });
    const good = run(file);
    expect(good.stdout).toMatch(/^# fail 0$/m);
    expect(Number(/^# pass (\d+)$/m.exec(good.stdout)?.[1])).toBeGreaterThan(20);
    expect(good.status).toBe(0);
    const bad = join(folder, 'one-tenth-off.test.mjs');
    writeFileSync(bad, testCode.replace("'./tenths-thermometer.mjs'", "'./one-tenth-off.mjs'"));
    writeFileSync(
      join(folder, 'one-tenth-off.mjs'),
      code.replace('Number(digits) / 10', 'Number(digits) / 10 + 0.1'),
    );
    const off = run(bad);
    expect(off.stdout).toMatch(/was never sent, or came again/);
    expect(off.status).toBe(1);
  }, 120_000);

  it('is exported with the drivers that it tests', () => {
    const names = ['./drivers/*', './test-kit'];
    const { exports } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as {
      readonly exports: Readonly<Record<string, { readonly types: string; readonly default: string }>>;
    };
    for (const name of names)
      for (const path of Object.values(exports[name] ?? {})) {
        expect(readFileSync(join(ROOT, path.replace('*', 'driver')), 'utf8')).not.toBe('');
      }
  });
});
