import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { benchForDesign } from '../daemon/bench-for-design.js';
import { loadBench, loadDesign } from '../daemon/design/load.js';
import { scaledClock } from '../drivers/simulated/clock.js';
import { serveSimulatedBench, type ServedBench } from '../drivers/simulated/serve-bench.js';
import { startSimulatedBench, type SimulatedBench } from '../drivers/simulated/simulated-bench.js';
import { MAIN, runCommand } from './daemon/run-command.js';
import { startChromium } from './web/chromium.js';

const DESIGN = fileURLToPath(
  new URL('../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

/** A bench of simulated instruments on pseudo-terminals, its supply heating 20 times faster than life. */
async function benchOnTerminals(folder: string) {
  const design = loadDesign(readFileSync(DESIGN, 'utf8'), DESIGN);
  const noLink = loadBench(
    benchForDesign(design, () => ({ tcp: 'localhost:1' })),
    'bench',
    design,
  );
  const bench = startSimulatedBench({
    design,
    bench: noLink,
    clock: scaledClock(20),
    fault: 'heatsink-missing',
    faultRail: 'logic',
    power: 'off',
  });
  const served = await serveSimulatedBench(bench, { as: 'serial' });
  const links = new Map(served.instruments.map(({ instrument, link }) => [instrument, link]));
  const file = join(folder, 'table.bench.yaml');
  writeFileSync(
    file,
    benchForDesign(design, (name) => links.get(name) ?? { tcp: 'localhost:1' }),
  );
  return { bench, served, file };
}

interface Watching {
  readonly child: ChildProcessWithoutNullStreams;
  readonly address: string;
  /** Everything on standard output so far: one effect a line. */
  effects(): string;
  /** Ctrl-C. Resolves with the exit code. */
  interrupt(): Promise<number | null>;
}

async function startWatching(bench: string, recordings: string): Promise<Watching> {
  const child = spawn(process.execPath, [
    MAIN,
    ...['watch', DESIGN, '--bench', bench, '--port', '0', '--recordings', recordings, '--json'],
  ]);
  let effects = '';
  let said = '';
  child.stdout.on('data', (text: Buffer) => (effects += text.toString()));
  const exited = new Promise<number | null>((resolve) => child.once('close', resolve));
  const address = await new Promise<string>((resolve, reject) => {
    child.stderr.on('data', (text: Buffer) => {
      said += text.toString();
      const found = /http:\S+/.exec(said);
      if (found !== null) resolve(found[0]);
    });
    void exited.then(() => reject(new Error(`watch ended by itself: ${said}`)));
  });
  return {
    child,
    address,
    effects: () => effects,
    interrupt() {
      child.kill('SIGINT');
      return exited;
    },
  };
}

describe('a first power-up from the serial port to the page and the job file', () => {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-end-to-end-'));
  let browser: Browser;
  let page: Page;
  let bench: SimulatedBench;
  let served: ServedBench;
  let watching: Watching;

  beforeAll(async () => {
    const table = await benchOnTerminals(folder);
    ({ bench, served } = table);
    watching = await startWatching(table.file, join(folder, 'recordings'));
    browser = await startChromium();
    page = await browser.newPage();
    await page.goto(watching.address);
  });

  afterAll(async () => {
    watching.child.kill('SIGKILL');
    await browser.close();
    await served.stop();
    rmSync(folder, { recursive: true, force: true });
  });

  it('shows live readings on the page: the lamp rail from the board, the reservoir from the meter', async () => {
    bench.power('on');
    for (const value of [/^12\.0\d/, /^19\.\d\d?/]) {
      await page.getByText(value).first().waitFor({ timeout: 20_000 });
    }
    await page.getByText('scpi-meter').first().waitFor();
  });

  it('raises the alarm for the regulator without its heatsink, and takes the acknowledgement', async () => {
    const alarm = page.getByRole('listitem').filter({ hasText: /Logic regulator.*over its limit/i });
    await alarm.first().waitFor({ timeout: 60_000 });
    await alarm
      .first()
      .getByRole('button', { name: /acknowledge/i })
      .click();
    await expect
      .poll(() => watching.effects(), { timeout: 10_000 })
      .toMatch(/"change":"acknowledged","alarm":\{"id":"over-limit:logic\.case"/);
  }, 90_000);

  it('tells a pulled plug at once, finds the port again and goes on', async () => {
    await bench.unplug('probes');
    await page
      .getByText(/probes is not there/)
      .first()
      .waitFor({ timeout: 5_000 });
    await bench.plugIn('probes');
    await expect
      .poll(() => watching.effects(), { timeout: 15_000 })
      .toMatch(/"change":"returned","alarm":\{"id":"instrument-lost:probes"/);
    const before = watching.effects().length;
    await expect.poll(() => watching.effects().length, { timeout: 20_000 }).toBeGreaterThan(before);
  }, 60_000);

  it('closes the recording on Ctrl-C, and replays it to the same effects, to the byte', async () => {
    expect(await watching.interrupt()).toBe(1);
    const [recording = 'none'] = readdirSync(join(folder, 'recordings'));
    const file = join(folder, 'recordings', recording);
    expect(readFileSync(file, 'utf8').trimEnd().split('\n').at(-2)).toMatch(/^\{"kind":"end"/);
    const again = await runCommand('replay', file, '--fast', '--json');
    expect(again.stderr).toMatch(/closed properly\.$/m);
    expect(again.stdout).toBe(watching.effects());
    expect(again.code).toBe(1);
  }, 60_000);
});
