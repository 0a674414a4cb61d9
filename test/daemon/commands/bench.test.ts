import { spawn } from 'node:child_process';
import { once } from 'node:events';
import {
  constants,
  existsSync,
  mkdtempSync,
  openSync,
  closeSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import { joinInstruments } from '../../../daemon/channels.js';
import { loadBench, loadDesign } from '../../../daemon/design/load.js';
import { openPtyPair, type PtyPair } from '../../drivers/pty.js';
import { MAIN, runCommand } from '../run-command.js';

const DESIGN = fileURLToPath(
  new URL('../../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);
const folder = mkdtempSync(join(tmpdir(), 'railminder-bench-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What is typed at a question, by a piece of its text; the first answer left that fits is typed once. */
type Answers = (readonly [question: string, answer: string])[];

/** As an answer: typed as soon as its text is there, a question or not. */
const CTRL_C = '\u0003';

/** This computer's own ports are none of the test's business. */
const NOT_OURS = /Listen at \S+.*\[yes\] /;

/** Types at a real terminal: a pseudo-terminal is the program's standard input and output. */
async function atTerminal(
  answers: Answers,
  ...args: string[]
): Promise<{ code: number | null; screen: string }> {
  const terminal = await openPtyPair(folder, 'terminal');
  const fd = openSync(terminal.devicePath, constants.O_RDWR | constants.O_NOCTTY);
  const left = [...answers];
  let screen = '';
  let answeredUpTo = 0;
  terminal.onData((bytes) => {
    screen += bytes.toString();
    const fresh = screen.slice(answeredUpTo);
    const key = left.findIndex(([text, answer]) => answer === CTRL_C && fresh.includes(text));
    if (key >= 0) {
      left.splice(key, 1);
      void terminal.write(CTRL_C);
      return;
    }
    if (!/\[[^\]\n]*\] $/.test(fresh)) return;
    const at = left.findIndex(([question]) => fresh.includes(question));
    const answer = at >= 0 ? left.splice(at, 1)[0]?.[1] : NOT_OURS.test(fresh) ? 'no' : '';
    answeredUpTo = screen.length;
    void terminal.write(`${answer ?? ''}\r`);
  });
  const child = spawn(process.execPath, [MAIN, 'bench', ...args], { cwd: folder, stdio: [fd, fd, fd] });
  const [code] = (await once(child, 'close')) as [number | null];
  await new Promise((resolve) => setTimeout(resolve, 100)); // for what the terminal still holds
  closeSync(fd);
  await terminal.unplug();
  return { code, screen };
}

function benchAt(file: string) {
  const text = readFileSync(join(folder, file), 'utf8');
  const value = loadBench(text, file, loadDesign(readFileSync(DESIGN, 'utf8'), DESIGN));
  return { text, joined: joinInstruments({ file, text, value }) };
}

describe.skipIf(process.platform === 'win32')('railminder bench new', () => {
  let pty: PtyPair;
  let saying: NodeJS.Timeout | undefined;

  beforeEach(async () => {
    pty = await openPtyPair(folder, 'board');
  });

  afterEach(async () => {
    clearInterval(saying);
    await pty.unplug();
  });

  const says = (say: (n: number) => string) => {
    let n = 0;
    saying = setInterval(() => void pty.write(say((n += 1))), 100);
  };

  it('writes what was found and where it sits, by test point', async () => {
    says((n) => `T1: 41.${n % 10} C, x 5.0${n % 10}\r\n`);
    const { code, screen } = await atTerminal(
      [
        ['Another port', pty.devicePath],
        ['Its name', 'probes'],
        ['Where does t1 sit (temperature)', 'logic.volts'],
        ['Where does t1 sit (temperature)', 'logic.case'],
        ['Where does x sit', 'logic.volts'],
        ['A meter without a cable', 'handheld'],
        ['Which test points', 'reservoir.volts lamps.volts'],
      ],
      'new',
      DESIGN,
    );
    expect(code, screen).toBe(0);
    expect(screen).toMatch(/found "logic\.volts"; none, or one of .*logic\.case.* is allowed/);
    const file = /Written: (\S+)\. Look it over/.exec(screen)?.[1] ?? '';
    const { text, joined } = benchAt(file);
    expect(joined.map(({ name, spec }) => [name, spec.driver, spec.options])).toEqual([
      ['probes', 'text-lines', { pattern: 'T1: {logic.case} C, x {logic.volts V}' }],
      ['handheld', 'by-hand', {}],
    ]);
    expect(joined.flatMap(({ probes }) => [...probes.values()])).toEqual([
      'logic.case',
      'logic.volts',
      'reservoir.volts',
      'lamps.volts',
    ]);
    expect(joined[0]?.spec.link).toEqual({ serial: pty.devicePath, baud: 9600 });
    expect(text).toMatch(/^ {2}probes: # prints T1: 41\.\d C, x 5\.0\d; a guess/m);
    expect(text).toMatch(/# as its manual says, add accuracy: /);
  });

  it('ends at once with Ctrl-C while it listens, before anything is found and with nothing written', async () => {
    const { code, screen } = await atTerminal(
      [
        ['Another port', pty.devicePath],
        ['listening', CTRL_C],
      ],
      'new',
      DESIGN,
      'never.bench.yaml',
    );
    expect(screen).toContain('Ended with Ctrl-C; nothing was written.');
    expect(screen).not.toContain('silent');
    expect(code).toBe(2);
    expect(existsSync(join(folder, 'never.bench.yaml'))).toBe(false);
  });

  it('takes a meter that answers, one test point a quantity, and leaves out what it does not understand', async () => {
    pty.onData((bytes) => void (bytes.toString() === '*IDN?\n' && pty.write('SIGNAL CABIN,METER,0,1.0\n')));
    const { code, screen } = await atTerminal(
      [
        ['Another port', join(folder, 'nothing')],
        ['Another port', pty.devicePath],
        ['Which test points', 'reservoir.volts logic.volts'],
        ['Which test points', 'reservoir.volts reservoir.ripple'],
      ],
      'new',
      DESIGN,
      'meter.bench.yaml',
    );
    expect(code, screen).toBe(0);
    expect(screen).toMatch(/nothing is not there; plug the device in, or check the path\. It is left out/);
    expect(screen).toContain('one test point for each quantity');
    const { joined } = benchAt('meter.bench.yaml');
    expect(joined.map(({ spec }) => spec.driver)).toEqual(['scpi-meter']);
    expect(joined[0]?.channels).toEqual([
      { name: 'reservoir-volts', measures: 'dc-volts' },
      { name: 'reservoir-ripple', measures: 'ac-volts' },
    ]);
  });

  it('puts a scope’s inputs and a MODBUS register where they sit', async () => {
    const scope: Readonly<Record<string, string>> = {
      '*IDN?': 'SIGNAL CABIN,SCOPE,0,1.0',
      ':CHAN1:COUP?': 'DC',
      ':CHAN1:PROB?': '10',
    };
    const bus = await openPtyPair(folder, 'bus');
    pty.onData((bytes) => {
      const answer = scope[bytes.toString().trim()];
      if (answer !== undefined) void pty.write(`${answer}\n`);
    });
    // Register 0 of unit 1 holds 10; see ask-bus.test.ts.
    bus.onData((bytes) => {
      const isForIt = bytes.toString('hex') === '010300000001840a';
      if (isForIt) void bus.write(Buffer.from('010302000a3843', 'hex'));
    });
    const { code, screen } = await atTerminal(
      [
        ['Another port', pty.devicePath],
        ['Another port', bus.devicePath],
        ['Where does input-1 sit (dc-volts)', 'reservoir.volts'],
        ['Where does value sit', 'logic.case'],
      ],
      'new',
      DESIGN,
      'scope.bench.yaml',
    );
    await bus.unplug();
    expect(code, screen).toBe(0);
    const { joined } = benchAt('scope.bench.yaml');
    expect(joined.map(({ spec }) => [spec.driver, spec.options])).toEqual([
      ['scpi-scope', { dialect: 'ten-field', inputs: { 'reservoir.volts': 1 } }],
      [
        'modbus-rtu',
        {
          baud: 9600,
          registers: [
            {
              channel: 'logic.case',
              unit: 1,
              read: 'holding',
              address: 0,
              type: 'uint16',
              measures: 'temperature',
            },
          ],
        },
      ],
    ]);
    expect(joined.flatMap(({ probes }) => [...probes.values()])).toEqual(['reservoir.volts', 'logic.case']);
  });

  it('writes nothing when nothing is named', async () => {
    const { code, screen } = await atTerminal([], 'new', DESIGN, 'none.bench.yaml');
    expect(code).toBe(2);
    expect(screen).toContain('No instrument was named; nothing was written.');
    expect(existsSync(join(folder, 'none.bench.yaml'))).toBe(false);
  });
});

it('never overwrites, and names what is missing', async () => {
  const file = join(folder, 'mine.bench.yaml');
  writeFileSync(file, 'mine');
  const refused = await runCommand('bench', 'new', DESIGN, file);
  expect(refused).toEqual({
    code: 2,
    stdout: '',
    stderr: `${file}: stands there already and is never overwritten; name another file\n`,
  });
  expect(readFileSync(file, 'utf8')).toBe('mine');
  expect((await runCommand('bench', 'new')).stderr).toBe(
    'a file is missing\nUse: railminder bench new DESIGN [FILE]\n',
  );
  expect((await runCommand('bench', 'old')).stderr).toMatch(/^"old" is not known; allowed is new\n/);
});
