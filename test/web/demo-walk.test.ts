import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { MAIN } from '../daemon/run-command.js';
import { startChromium } from './chromium.js';
import { openPage, type OpenPage } from './open-page.js';

let browser: Browser;
let demo: ChildProcess;
let temporary: string;
let opened: OpenPage;

beforeEach(async () => {
  browser = await startChromium();
});

afterEach(async () => {
  await browser.close();
  const closed = once(demo, 'close');
  demo.kill('SIGINT');
  await closed;
  rmSync(temporary, { recursive: true, force: true });
  expect(opened.problems).toEqual([]);
});

/** The demo as it is shipped, its supply off; its recording goes where the test can take it away again. */
async function openDemo(fault: string): Promise<Page> {
  temporary = mkdtempSync(join(tmpdir(), 'railminder-walk-'));
  demo = spawn(
    process.execPath,
    [MAIN, 'demo', '--powerup', '--fault', fault, '--speed', '100', '--port', '0'],
    { env: { ...process.env, TMPDIR: temporary }, stdio: ['ignore', 'pipe', 'inherit'] },
  );
  let said = '';
  const address = await new Promise<string>((resolve) => {
    demo.stdout?.on('data', (bytes: Buffer) => {
      said += bytes.toString();
      const found = /http:\S+/.exec(said);
      if (found !== null) resolve(found[0]);
    });
  });
  opened = await openPage(browser, `${address}#/walk`);
  return opened.page;
}

/** What a sound signal cabin answers: the values are those of its schematic and of the trade. */
const ANSWERS: Readonly<Record<string, string>> = {
  fuse: '0.315',
  earth: '0.12',
  insulation: 'OL',
  separation: '60M',
  'short-reservoir': '4.7k',
  'short-lamps': 'OL',
  'short-logic': '1.2k',
  'tab-lamps': 'OL',
  'lamp-watts': '40',
  secondary: '16.8',
};

/** Answers every check of the step on the page, and waits until the way is open. */
async function doStep(page: Page, title: string, timeout: number): Promise<void> {
  await page.getByRole('heading', { level: 2, name: title, exact: true }).waitFor({ timeout });
  const checks = await page.locator('rm-walk-check').all();
  for (const check of checks) {
    const id = ((await check.getAttribute('id')) ?? '').replace('check-', '');
    if ((await check.locator('input').count()) > 0) {
      await check.locator('input').fill(ANSWERS[id] ?? 'none');
      await check.getByRole('button', { name: 'Enter' }).click();
    } else await check.getByRole('button', { name: 'Yes' }).click();
    await check.getByText(/, inside/).waitFor();
  }
  await page.locator('rm-walk-step .next[aria-disabled=false]').waitFor({ timeout });
  await page.locator('rm-walk-step .next').click();
}

it('the demo is walked from the cold checks to the signature', { timeout: 300_000 }, async () => {
  const page = await openDemo('none');
  await page.getByRole('button', { name: 'Begin: Cold checks' }).click();
  for (const title of ['Cold checks', 'Put the lamp limiter in', 'Transformer alone']) {
    await doStep(page, title, 20_000);
  }
  for (const title of [
    'Raw DC, regulators off',
    'Rails without load',
    'Dummy load',
    'Soak until nothing warms any more',
    'Real load on lamps',
    'Real load on logic',
    'Lid closed',
  ]) {
    await doStep(page, title, 120_000);
  }
  await page.getByLabel('Your name').fill('Ada of the signal works');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Signed off by Ada of the signal works' }).waitFor();
  await page.getByText('Every step was done').waitFor();
});

it('a regulator without its heatsink stops the walk, which is broken off', { timeout: 200_000 }, async () => {
  const page = await openDemo('heatsink-missing');
  await page.getByRole('button', { name: 'Begin: Cold checks' }).click();
  for (const title of ['Cold checks', 'Put the lamp limiter in', 'Transformer alone']) {
    await doStep(page, title, 20_000);
  }
  for (const title of ['Raw DC, regulators off', 'Rails without load']) await doStep(page, title, 60_000);
  await page.getByText('Failed: the walk stops here').waitFor({ timeout: 120_000 });
  await page.locator('rm-walk-step h2').click();
  await page.keyboard.press('x');
  await page.keyboard.type('The logic regulator is too hot');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Broken off' }).waitFor();
  await page.getByText('Switch off at the mains and pull the plug.', { exact: true }).waitFor();
});
