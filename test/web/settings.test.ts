import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { startFakeDaemon, type FakeDaemon } from './fake-daemon.js';
import { giveVoice, heard } from './fake-voice.js';
import { pageTests, type PageAt } from './page-tests.js';
import { calm, HOT_CASE } from './signal-cabin.js';

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFakeDaemon(page, calm())));

async function open(wishes?: PageAt): Promise<Page> {
  const page = await tests.open(wishes);
  await page.getByText('All well').waitFor();
  return page;
}

describe('settings', () => {
  it('°F goes everywhere at once: cards, glance, charts, sentences of the daemon', async () => {
    const page = await open();
    await page.locator('rm-plot canvas').first().waitFor();
    await page.keyboard.press('p');
    await page.getByRole('radio', { name: '°F' }).check();
    await page.keyboard.press('Escape');
    // 53.8 °C is 128.8 °F; 43 and 64 °C are 109.4 and 147.2 °F (times 1.8, plus 32).
    const card = page.locator('rm-supply .block', { hasText: 'Logic rail' });
    expect(await card.innerText()).toMatch(/128\.8\s°F\s+inside\s+case, predicted 109\.4 to 147\.2\s°F/);
    await page.getByRole('img', { name: /logic regulator case.* 128\.8.°F/ }).waitFor();
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await page
      .locator('rm-glance')
      .getByText(/is at 227\.\d\s°F/)
      .waitFor();
    expect(await page.getByText('°C').filter({ visible: true }).allInnerTexts()).toEqual([]);
    expect(await page.getByRole('img', { name: '°C' }).count()).toBe(0);
  });

  it('are kept for the next visit, and junk in the store is as good as nothing', async () => {
    const page = await open();
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('radio', { name: 'dark', exact: true }).check();
    await page.getByRole('radio', { name: 'largest' }).check();
    const look = () =>
      page.evaluate(() => ({
        paper: getComputedStyle(document.documentElement).getPropertyValue('--paper').trim(),
        size: parseFloat(getComputedStyle(document.documentElement).fontSize),
      }));
    const chosen = await look();
    expect(chosen.paper).toBe('#12171c');
    expect(chosen.size).toBeGreaterThan(20);
    await page.reload();
    await page.getByText('All well').waitFor();
    expect(await look()).toEqual(chosen);
    await page.evaluate(() => localStorage.setItem('railminder.preferences', '{"theme":7,"mains":[]'));
    await page.reload();
    await page.getByText('All well').waitFor();
    expect((await look()).paper).toBe('#f4f2ec');
  });

  it('light holds against a dark system', async () => {
    const page = await open({ colorScheme: 'dark' });
    await page.keyboard.press('p');
    await page.getByRole('radio', { name: 'light', exact: true }).check();
    const paper = await page.evaluate(() =>
      getComputedStyle(document.documentElement).getPropertyValue('--paper').trim(),
    );
    expect(paper).toBe('#f4f2ec');
  });

  it('the voice reads an alarm out when it is wanted', async () => {
    const page = await open();
    await giveVoice(page, {});
    await page.keyboard.press('p');
    await page
      .getByRole('group', { name: 'Read alarms and steps out' })
      .getByRole('radio', { name: 'yes' })
      .check();
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await expect
      .poll(() => heard(page))
      .toEqual(['Alarms and steps are read out.', `Alarm: ${HOT_CASE.spoken}`]);
  });

  it('a browser without a voice says so to whoever wants to hear it', async () => {
    const page = await open();
    await page.evaluate(() => {
      window.speechSynthesis.getVoices = () => [];
    });
    await page.keyboard.press('p');
    await page
      .getByRole('group', { name: 'Read alarms and steps out' })
      .getByRole('radio', { name: 'yes' })
      .check();
    await page.locator('rm-settings [role=status]', { hasText: 'This browser has no voice' }).waitFor();
  });
});
