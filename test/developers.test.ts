import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it, onTestFinished } from 'vitest';
import { joinInstruments } from '../daemon/channels.js';
import { loadBench } from '../daemon/design/load.js';
import { loadOutsideDrivers } from '../daemon/outside-drivers.js';
import type { Driver } from '../drivers/driver.js';
import { openPty } from '../drivers/simulated/pty.js';
import { runCommand } from './daemon/run-command.js';
import { driverContract, type DeviceSurroundings, type GoodDevice } from './drivers/contract.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const DESIGN = join(ROOT, 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml');

// Within the package, where its own name leads to what was built.
mkdirSync(join(ROOT, 'dist'), { recursive: true });
const folder = mkdtempSync(join(ROOT, 'dist', 'developers-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const [, code = ''] = /```js\n([\s\S]*?)```/.exec(readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8')) ?? [];
writeFileSync(join(folder, 'tenths-thermometer.mjs'), code);

function benchNaming(driver: string) {
  const text = `bench: table\ninstruments:\n  probe:\n    driver: ${driver}\n    link: { tcp: 'localhost:1' }\n`;
  const file = join(folder, 'table.bench.yaml');
  writeFileSync(file, text);
  return { file, text, value: loadBench(text, file) };
}

const BENCH = benchNaming('./tenths-thermometer.mjs');
const drivers = await loadOutsideDrivers(BENCH, true);
const driver = drivers.get('./tenths-thermometer.mjs') as Driver;

/** Prints a line every 100 ms; no value comes twice. */
function thermometer(
  { clock, say, promise }: DeviceSurroundings,
  line: (tenths: number) => string,
): GoodDevice {
  let tenths = 200;
  let cancel: (() => void) | null = null;
  function print(): void {
    tenths = 200 + ((tenths - 199) % 9000);
    promise('probe', tenths / 10);
    cancel = clock.after(100, print);
    say(line(tenths));
  }
  return {
    wake: () => void (cancel ??= clock.after(100, print)),
    sleep() {
      cancel?.();
      cancel = null;
    },
  };
}

function checked(tenths: number): string {
  const digits = String(tenths).padStart(4, '0');
  return `${digits}:${[...digits].reduce((sum, digit) => sum + Number(digit), 0) % 10}\r\n`;
}

driverContract({
  driver,
  options: {},
  channels: [{ name: 'probe', measures: 'temperature' }],
  device: (around) => thermometer(around, checked),
  otherDevice: (around) => thermometer(around, (tenths) => `${tenths / 10} C\r\n`),
  otherDeviceFault: 'not-understood',
  longestFrameBytes: checked(413).length,
});

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
    const file = join(folder, 'tenths-thermometer.mjs');
    try {
      execFileSync(process.execPath, [tsc, ...flags, ...types, file], { cwd: ROOT });
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
