import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { MAIN, runCommand } from './daemon/run-command.js';
import { startChromium } from './web/chromium.js';

const DESIGN = fileURLToPath(
  new URL('../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

describe('a supply that is measured with one meter without a cable', () => {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-by-hand-'));
  let child: ChildProcessWithoutNullStreams;
  let browser: Browser;
  let page: Page;
  let said = '';
  let effects = '';
  const exited = () => new Promise<number | null>((resolve) => child.once('close', resolve));

  beforeAll(async () => {
    child = spawn(process.execPath, [
      MAIN,
      ...['watch', DESIGN, '--port', '0', '--recordings', folder, '--json'],
    ]);
    child.stdout.on('data', (text: Buffer) => (effects += text.toString()));
    child.stderr.on('data', (text: Buffer) => (said += text.toString()));
    await vi.waitUntil(() => /Next: reservoir\.volts/.test(said), { timeout: 15_000 });
    browser = await startChromium();
    page = await browser.newPage();
    await page.goto(/http:\S+/.exec(said)?.[0] ?? 'none');
  });

  afterAll(async () => {
    child.kill('SIGKILL');
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('asks at the terminal for one test point after the other, and judges each', async () => {
    child.stdin.write('19.3\n');
    await expect.poll(() => said).toMatch(/^reservoir\.volts: 19\.30 V, inside\nNext: ambient\.air/m);
    child.stdin.write('logic.volts 5.02 V\n');
    await expect.poll(() => said).toMatch(/^logic\.volts: 5\.02 V, inside\nNext: logic\.case/m);
  });

  it('says why it does not take a slip of the finger', async () => {
    child.stdin.write('12..03\nlogic.volt 5\nlogic.ripple 5m\n');
    await expect.poll(() => said).toMatch(/^Not taken: "12\.\.03" is no reading in degC/m);
    await expect
      .poll(() => said)
      .toMatch(/no reading is typed for "logic\.volt"; did you mean logic\.volts\?/);
    await expect.poll(() => said).toMatch(/no reading is typed for "logic\.ripple"/);
  });

  it('takes a reading from the page like one from the terminal, and raises the alarm', async () => {
    await page.getByText('typed by hand').first().waitFor();
    await page.getByRole('combobox', { name: 'Test point' }).selectOption('logic.volts');
    const field = page.getByRole('textbox', { name: 'logic.volts reads' });
    await field.fill('six');
    await field.press('Enter');
    await page.getByText('"six" is no reading in V').waitFor();
    await field.fill('6.4');
    await field.press('Enter');
    await page.getByText(/Taken: logic.* 6\.40/).waitFor();
    await page.getByRole('textbox', { name: 'logic.case reads' }).waitFor();
    await page
      .getByText(/logic.*over its limit/i)
      .first()
      .waitFor();
    expect(effects).toMatch(/"id":"over-limit:logic\.volts"/);
  });

  it('leaves a recording that replays to the same effects, to the byte', async () => {
    const end = exited();
    child.kill('SIGINT');
    expect(await end).toBe(1);
    const [recording = 'none'] = readdirSync(folder);
    const file = join(folder, recording);
    expect(readFileSync(file, 'utf8')).toMatch(/"typed":true/);
    const again = await runCommand('replay', file, '--fast', '--json');
    expect(again.stderr).toMatch(/closed properly\.$/m);
    expect(again.stdout).toBe(effects);
  });
});
