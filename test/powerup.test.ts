import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { AtTerminal } from './at-terminal.js';
import { MAIN, runCommand } from './daemon/run-command.js';

const AT_BENCH = fileURLToPath(new URL('children/powerup-at-bench.mjs', import.meta.url));
const DESIGN = fileURLToPath(
  new URL('../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

const line = (text: string): string => `${text}\r`;
const COLD_CHECKS = [
  ...[line('0.315'), line('0.12'), line('OL'), line('60M'), 'y', 'y', 'y'],
  ...[line('4.7k'), line('OL'), line('1.2k'), line('OL'), 'y'],
];

let terminal: AtTerminal;
afterEach(() => terminal.end());

/** Cold checks, lamp and transformer, up to raw DC. */
async function upToRaw(): Promise<void> {
  await terminal.until(/STEP 1 OF 11: Cold checks/);
  terminal.press(...COLD_CHECKS);
  await terminal.until(/All of it is inside/);
  terminal.press('n');
  await terminal.until(/STEP 2 OF 11[^]*How many watts/);
  terminal.press(line('40'));
  await terminal.until(/All of it is inside/);
  terminal.press('n');
  await terminal.until(/STEP 3 OF 11[^]*y or n/);
  terminal.press('y', line('16.8'));
  await terminal.until(/All of it is inside/);
  terminal.press('n');
  await terminal.until(/STEP 4 OF 11[^]*y or n/);
}

describe('the power-up at a pseudo-terminal', () => {
  it('goes all the way on the simulated bench, values kept by themselves', { timeout: 240_000 }, async () => {
    terminal = new AtTerminal((folder) => [AT_BENCH, folder, 'none']);
    await upToRaw();
    terminal.press('y');
    expect(await terminal.until(/All of it is inside/)).toMatch(/kept: reservoir\.volts 2\d\.\d+ V, inside/);
    for (const step of [
      'Rails without load',
      'Dummy load',
      'Soak',
      'Real load on lamps',
      'Real load on logic',
      'Lid',
    ]) {
      terminal.press('n');
      await terminal.until(new RegExp(`STEP \\d+ OF 11: ${step}`));
      if (step.startsWith('Rails')) terminal.press('y');
      await terminal.until(/All of it is inside/, 120_000);
    }
    terminal.press('n');
    expect(await terminal.until(/your name, signs it off/)).toMatch(/soak +done/);
    terminal.press('\r', line('Ada of the signal works'));
    await terminal.until(/Signed off by Ada of the signal works/);
    terminal.press('q');
    await terminal.until(/EXIT \d/);
    expect(terminal.said).toMatch(/EXIT 0/);
    // A path can't be broken.
    const lines = terminal.said.split('\n').filter((one) => !one.includes('/'));
    expect(Math.max(...lines.map((one) => one.trimEnd().length))).toBeLessThanOrEqual(80);
    const replayed = await runCommand('replay', terminal.recording(), '--fast');
    expect(replayed.stderr + replayed.stdout).toMatch(/closed properly/);
  });

  it('fails at the soak when a regulator stands without its heatsink', { timeout: 240_000 }, async () => {
    terminal = new AtTerminal((folder) => [AT_BENCH, folder, 'heatsink-missing']);
    await upToRaw();
    terminal.press('y');
    await terminal.until(/All of it is inside/);
    terminal.press('n');
    await terminal.until(/STEP 5 OF 11/);
    terminal.press('y');
    await terminal.until(/All of it is inside/);
    terminal.press('n');
    await terminal.until(/STEP 6 OF 11/);
    await terminal.until(/All of it is inside/);
    terminal.press('n');
    await terminal.until(/STEP 7 OF 11/);
    const failed = await terminal.until(/FAILED: Logic regulator tab[^]*heatsink missing/, 120_000);
    expect(failed).not.toMatch(/All of it is inside/);
    terminal.press('o', line('it will cool down'));
    await terminal.until(/Not done: Not while this alarm stands/);
    terminal.press('a', line('logic regulator too hot'));
    await terminal.until(/BROKEN OFF[^]*Switch off at the mains[^]*wait \d+ s/);
    terminal.press('q');
    await terminal.until(/EXIT 1/);
    const report = await runCommand(
      'report',
      terminal.recording(),
      '-o',
      join(terminal.folder, 'report.html'),
    );
    expect(report.code).toBe(0);
    const page = readFileSync(join(terminal.folder, 'report.html'), 'utf8').replace(/\s+/g, ' ');
    expect(page).toMatch(/broken off: logic regulator too hot/);
  });

  it(
    'goes by hand, one meter and typed values, with an override and a step back',
    { timeout: 120_000 },
    async () => {
      terminal = new AtTerminal((folder) => [MAIN, 'powerup', DESIGN, '--recordings', folder, '--port', '0']);
      await upToRaw();
      terminal.press('y', line('22.2'));
      await terminal.until(/All of it is inside/);
      terminal.press('b');
      await terminal.until(/STEP 3 OF 11[^]*y or n/);
      terminal.press('y', line('16.9'), 'n');
      await terminal.until(/STEP 4 OF 11[^]*y or n/);
      terminal.press('y', line('22.2'));
      await terminal.until(/All of it is inside/);
      terminal.press('n');
      await terminal.until(/STEP 5 OF 11[^]*y or n/);
      terminal.press('y', line('21.6'), line('12.03'), line('5.4'));
      await terminal.until(/FAILED: Logic rail: 5\.40 V where 4\.7\d to 5\.2\d V/);
      terminal.press('n');
      await terminal.until(/Not done/);
      terminal.press(line('5.01'));
      await terminal.until(/All of it is inside/);
      terminal.press('n');
      await terminal.until(/STEP 6 OF 11/);
      terminal.press(line('18.4'), line('12.02'), line('5.0'));
      await terminal.until(/All of it is inside/);
      terminal.press('n');
      await terminal.until(/STEP 7 OF 11/);
      terminal.press('o', line('ok'));
      await terminal.until(/three letters at least/);
      terminal.press('o', line('soaked for two hours yesterday'));
      await terminal.until(/Overridden: soaked for two hours yesterday/);
      terminal.press('\u0003');
      await terminal.until(/CODE 1/);
      const replayed = await runCommand('replay', terminal.recording(), '--fast', '--json');
      expect(replayed.stdout).toMatch(/"change":"overridden".*soaked for two hours yesterday/);
      expect(replayed.stderr).toMatch(/closed properly/);
    },
  );

  it('refuses a lamp that is none', async () => {
    terminal = new AtTerminal(() => [MAIN, 'powerup', DESIGN, '--lamp', 'LED']);
    await terminal.until(/CODE 2/);
    expect(terminal.said).toMatch(/--lamp: found "LED"; watts or none is allowed/);
  });
});
