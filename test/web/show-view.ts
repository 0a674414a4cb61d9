import type { Page } from 'playwright-core';

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
  // Charts are drawn one frame after their words.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}
