import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, constants, mkdtempSync, openSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { joinInstruments } from '../../../daemon/channels.js';
import { loadBench } from '../../../daemon/design/load.js';
import { placeOf } from '../../../drivers/listen/place.js';
import { meterFrame } from '../../drivers/lcd-frames/meter-frames.js';
import { openPtyPair, type PtyPair } from '../../drivers/pty.js';
import { MAIN, runCommand, type CommandResult } from '../run-command.js';

const folder = mkdtempSync(join(tmpdir(), 'railminder-listen-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The bench file at the end of what was printed, and what the daemon makes of it. */
function benchIn(stdout: string) {
  const text = stdout.slice(stdout.indexOf('# Which instruments'));
  const value = loadBench(text, 'printed.bench.yaml');
  return joinInstruments({ file: 'printed.bench.yaml', text, value });
}

describe.skipIf(process.platform === 'win32')('railminder listen', () => {
  let pty: PtyPair;
  let saying: NodeJS.Timeout | undefined;

  afterEach(async () => {
    clearInterval(saying);
    await pty.unplug();
  });

  /** A device that says this ten times a second. */
  async function deviceSaying(say: (n: number) => string | Uint8Array): Promise<string> {
    pty = await openPtyPair(folder);
    let n = 0;
    saying = setInterval(() => void pty.write(say((n += 1))), 100);
    return pty.devicePath;
  }

  it('shows what a board prints and proposes a pattern that the daemon takes', async () => {
    const path = await deviceSaying((n) => `T1: 41.${n % 10} C, T2: 38.9 C\r\n`);
    const { code, stdout } = await runCommand('listen', path, '--seconds', '0.5');
    expect(code).toBe(0);
    expect(stdout).toMatch(/^ {2}T1: 41\.\d C, T2: 38\.9 C$/m);
    expect(stdout).toContain(`${path} at 9600 baud: lines for text-lines with a pattern, `);
    const [board] = benchIn(stdout);
    expect(board?.spec).toMatchObject({
      driver: 'text-lines',
      link: { serial: path, baud: 9600 },
      options: { pattern: 'T1: {t1} C, T2: {t2} C' },
    });
    expect(board?.channels).toEqual([
      { name: 't1', measures: 'temperature' },
      { name: 't2', measures: 'temperature' },
    ]);
  });

  it('finds a meter that sends its display', async () => {
    const path = await deviceSaying(() => meterFrame('1206', '/100', 'V', 'DC'));
    const { code, stdout } = await runCommand('listen', path, '--seconds', '0.5');
    expect(code).toBe(0);
    const [meter] = benchIn(stdout);
    expect(meter?.spec.driver).toBe('lcd-frames');
    expect(meter?.channels).toEqual([{ name: 'dc-volts', measures: 'dc-volts' }]);
  });

  it('says so when nothing answers, asked with even parity too', async () => {
    pty = await openPtyPair(folder);
    const { code, stdout, stderr } = await runCommand('listen', pty.devicePath, '--baud', '9600');
    expect(code).toBe(1);
    expect(stderr).toContain('reads a MODBUS register at 9600 baud, even parity');
    expect(stdout).toContain('silent: no answer to *IDN?, nor as MODBUS unit 1, 2 or 3');
  });

  it('finds a MODBUS device by reading a register, and proposes modbus-rtu', async () => {
    pty = await openPtyPair(folder);
    const asked: Buffer[] = [];
    pty.onData((bytes) => {
      asked.push(bytes);
      // The request and the exception 02 that open-source MODBUS suites quote; see ask-bus.test.ts.
      if (bytes.toString('hex') === '010300000001840a') void pty.write(Buffer.from('018302c0f1', 'hex'));
    });
    const { code, stdout } = await runCommand('listen', pty.devicePath, '--baud', '19200');
    expect(code, stdout).toBe(0);
    expect(stdout).toContain('answers as MODBUS unit 1 that it has no register 0, so modbus-rtu reads it');
    const [bus] = benchIn(stdout);
    expect(bus?.spec).toMatchObject({
      driver: 'modbus-rtu',
      link: { serial: pty.devicePath, baud: 19_200 },
      options: { registers: [{ unit: 1, read: 'holding', address: 0 }] },
    });
    const sent = Buffer.concat(asked).toString('latin1');
    expect(sent.replace('*IDN?\n', '')).toMatch(/^(\x01[\x03\x04]\0\0\0\x01[^]{2})+$/);
  });

  it('finds a scope by what it answers, and proposes scpi-scope with its inputs', async () => {
    pty = await openPtyPair(folder);
    const answers: Readonly<Record<string, string>> = {
      '*IDN?': 'SIGNAL CABIN,BOX,0,1.0',
      ':CHAN1:COUP?': 'DC',
      ':CHAN1:PROB?': '10',
      ':CHAN2:COUP?': 'DC',
    };
    pty.onData((bytes) => {
      const answer = answers[bytes.toString().trim()];
      if (answer !== undefined) void pty.write(`${answer}\n`);
    });
    const { code, stdout } = await runCommand('listen', pty.devicePath, '--baud', '9600');
    expect(code, stdout).toBe(0);
    expect(benchIn(stdout)[0]?.spec).toMatchObject({
      driver: 'scpi-scope',
      options: { dialect: 'ten-field', inputs: { 'input-1': 1, 'input-2': 2 } },
    });
  });

  it('asks a silent device who it is', async () => {
    pty = await openPtyPair(folder);
    pty.onData((bytes) => {
      if (bytes.toString() === '*IDN?\n') void pty.write('SIGNAL CABIN,METER,0,1.0\n');
    });
    const { code, stdout } = await runCommand('listen', pty.devicePath);
    expect(code).toBe(0);
    expect(stdout).toContain('answers "SIGNAL CABIN,METER,0,1.0"');
    expect(benchIn(stdout)[0]?.spec.driver).toBe('scpi-meter');
  });

  it('shows a flood bounded and printable, and says when it understands nothing', async () => {
    const path = await deviceSaying(() => `\x1b[2J${'x'.repeat(60)}\n`.repeat(20));
    const { code, stdout } = await runCommand('listen', path, '--seconds', '0.5');
    expect(code).toBe(1);
    expect(stdout).toMatch(/\\x1b\[2Jxxx/);
    expect(stdout).not.toContain('\x1b');
    expect(stdout).toMatch(/… and \d+ more lines/);
    expect(stdout.split('\n').length).toBeLessThan(40);
    expect(stdout).toContain('text without a number that could be a reading');
  });

  /** Listens for ten minutes; `act` is called once, when some lines have been shown. */
  async function untilShown(path: string, act: (listening: ChildProcess) => void) {
    const listening = spawn(process.execPath, [MAIN, 'listen', path, '--seconds', '600']);
    let stdout = '';
    let hasActed = false;
    listening.stdout.on('data', (data: Buffer) => {
      stdout += data.toString();
      if (hasActed || (stdout.match(/U=/g)?.length ?? 0) < 8) return;
      hasActed = true;
      act(listening);
    });
    const [code] = (await once(listening, 'close')) as [number | null];
    return { code, stdout };
  }

  it('ends at Ctrl-C and judges what it heard', async () => {
    const path = await deviceSaying((n) => `U=12.${n % 10}6V\n`);
    const { code, stdout } = await untilShown(path, (listening) => listening.kill('SIGINT'));
    expect(code).toBe(0);
    expect(benchIn(stdout)[0]?.spec.options).toEqual({ pattern: 'U={u} V' });
  });

  it('ends when the device is pulled out and judges what it heard', async () => {
    const path = await deviceSaying((n) => `U=12.${n % 10}6V\n`);
    const { code, stdout } = await untilShown(path, () => void pty.unplug());
    expect(code).toBe(0);
    expect(benchIn(stdout)[0]?.spec.options).toEqual({ pattern: 'U={u} V' });
  });

  it('finds the speed of a device that makes no sense at others', async () => {
    pty = await openPtyPair(folder);
    const terminal = openSync(pty.devicePath, constants.O_RDWR | constants.O_NOCTTY);
    // A pseudo-terminal paces nothing, but keeps the speed that was set.
    const speed = () =>
      spawnSync('stty', ['speed'], { stdio: [terminal, 'pipe', 'pipe'] })
        .stdout.toString()
        .trim();
    saying = setInterval(() => {
      const isRight = speed() === '115200';
      void pty.write(isRight ? 'T1: 41.3 C\r\n' : Buffer.from('98f80086c0fe', 'hex'));
    }, 100);
    const { code, stdout, stderr } = await runCommand('listen', pty.devicePath, '--seconds', '0.5');
    closeSync(terminal);
    expect(code).toBe(0);
    expect(stderr).toContain('listens at 115200 baud');
    expect(benchIn(stdout)[0]?.spec).toMatchObject({
      link: { serial: pty.devicePath, baud: 115_200 },
      options: { pattern: 'T1: {t1} C' },
    });
  });
});

it('a port that is not there is one sentence, exit code 2', async () => {
  const missing: CommandResult = await runCommand('listen', join(folder, 'nothing'));
  expect(missing).toEqual({
    code: 2,
    stdout: '',
    stderr: `${join(folder, 'nothing')} is not there; plug the device in, or check the path\n`,
  });
  const refused = await runCommand('listen', '127.0.0.1:1');
  expect(refused.stderr).toMatch(/^nothing listens on 127\.0\.0\.1:1; [^\n]+\n$/);
  expect(refused.code).toBe(2);
});

it.each([
  ['/dev/usbtmc0', { usbtmc: '/dev/usbtmc0' }],
  ['192.168.4.1:5025', { tcp: '192.168.4.1:5025' }],
  ['/dev/serial/by-id/a:1', { serial: '/dev/serial/by-id/a:1' }],
  ['COM3', { serial: 'COM3' }],
])('%s is %j', (port, place) => {
  expect(placeOf(port)).toEqual(place);
});
