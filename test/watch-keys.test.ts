import { fileURLToPath } from 'node:url';
import { afterEach, expect, it } from 'vitest';
import { AtTerminal } from './at-terminal.js';
import { MAIN, runCommand } from './daemon/run-command.js';

const AT_BENCH = fileURLToPath(new URL('children/watch-at-bench.mjs', import.meta.url));
const DESIGN = fileURLToPath(
  new URL('../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);
const ENTER = '\r';
const CTRL_C = '\u0003';

let terminal: AtTerminal;
afterEach(() => terminal.end());

/** Lines as they were written, whatever was painted over later. */
function lines(): string[] {
  const text = terminal.raw.replace(/\u001b\[\d*[A-Za-z]/g, '').replace(/[\r\u0007]/g, '');
  // A path can't be broken.
  return text.split('\n').filter((line) => !line.includes('/'));
}

it(
  'watch at a pseudo-terminal is worked by single keys, from the alarm to the cut-off',
  { timeout: 120_000 },
  async () => {
    terminal = new AtTerminal((folder) => [AT_BENCH, folder]);
    await terminal.until(/ALARM \(medium, first\) Logic rail/);
    await terminal.until(/a acknowledge +s put aside/);
    terminal.press('?');
    await terminal.until(/a {2}acknowledge an alarm, or reset[^]*c {2}cut-off/);

    terminal.press('a');
    await terminal.until(/Acknowledge: Logic rail: 5\.40 V[^]*Enter: I have seen it {3}Esc/);
    terminal.press(ENTER);
    await terminal.until(/acknowledged: outside-prediction:logic\.volts/);

    terminal.press('s', '+', ENTER);
    await terminal.until(/put aside until 30:\d\d: outside-prediction:logic\.volts/);
    terminal.press('s', ENTER);
    await terminal.until(/no longer put aside: outside-prediction:logic\.volts/);

    terminal.press('l');
    await terminal.until(/Judged for typical load/);
    terminal.press('f');
    await terminal.until(/judged for full load\.[^]*full load {3}/);

    terminal.press('c', 'a');
    await terminal.until(/replace a fuse, a lamp limiter or a person[^]*Type "in sight"/);
    terminal.press(ENTER);
    await terminal.until(/Not done: only "in sight"/);
    terminal.press('c', 'p', 'in sight', ENTER);
    await terminal.until(/mains-relay says that power is on/);
    terminal.press('c', 'a', 'in sight', ENTER);
    await terminal.until(/The cut-off mains-relay is armed, by somebody who has the supply in\s+sight/);
    terminal.press('c', 't', 'in sight', ENTER);
    await terminal.until(/is being tested[^]*Power was seen to fall/);
    terminal.press('c', 'd');
    await terminal.until(/Not done: mains-relay has dropped/);

    terminal.press(CTRL_C);
    await terminal.until(/Session closed[^]*CODE 0|Session closed[^]*CODE 1/);
    expect(Math.max(...lines().map((line) => line.length))).toBeLessThanOrEqual(80);
    const replayed = await runCommand('replay', terminal.recording(), '--fast');
    expect(replayed.stderr + replayed.stdout).toMatch(/closed properly/);
  },
);

it('watch by hand takes the keys as lines between the readings', { timeout: 60_000 }, async () => {
  terminal = new AtTerminal((folder) => [MAIN, 'watch', DESIGN, '--recordings', folder, '--port', '0']);
  await terminal.until(/A line with \? alone says what else you can do here/);
  terminal.press('logic.volts 6.4\n');
  await terminal.until(/logic\.volts: 6\.40 V, outside[^]*Next/);
  terminal.press('a\n');
  await terminal.until(/Acknowledge: Logic rail: 6\.40 V[^]*Enter: I have seen it/);
  terminal.press('\n');
  await terminal.until(/acknowledged: (over-limit|passing-input):logic\.volts/);
  terminal.press('c\n');
  await terminal.until(/no output that may be switched/);
});
