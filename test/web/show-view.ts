import type { Page } from 'playwright-core';
import { chartsDrawn } from './pictures.js';

/** What stands on a view once everything that it asks for has come. */
const READY: Readonly<Record<string, string>> = {
  bench: 'rm-supply .block',
  walk: 'rm-walk-view h2',
  job: 'rm-job-list .facts:has-text("cut off")',
  design: 'rm-design-view #points-title',
  instruments: 'rm-instruments-view #bench-title + p',
};

/** Waits until a view is all there, its charts drawn. */
export async function showView(page: Page, view: string): Promise<void> {
  await page.locator(READY[view]!).first().waitFor();
  await chartsDrawn(page);
}

/** On the list of recordings: opens one. */
export async function openRecording(page: Page, file: string): Promise<void> {
  await page.locator(`[data-file="${file}"]`).click();
  await page.getByRole('heading', { name: /^Then, / }).waitFor();
  await page.locator('rm-recorded-plot canvas').first().waitFor();
}

/** On the list of recordings: compares two. */
export async function compareRecordings(page: Page, files: readonly [string, string]): Promise<void> {
  for (const file of files) await page.locator('li').filter({ hasText: file }).getByRole('checkbox').check();
  await page.getByRole('button', { name: 'Compare the two' }).click();
  await page.getByRole('heading', { name: 'Before and after' }).waitFor();
  await page.locator('rm-recorded-plot canvas').first().waitFor();
}

/** In the settings: the largest text there is. */
export async function chooseLargestText(page: Page): Promise<void> {
  await page.keyboard.press('p');
  await page.getByRole('radio', { name: 'largest' }).check();
  await page.keyboard.press('Escape');
  await chartsDrawn(page);
}
