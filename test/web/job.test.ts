import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { jobDaemon, jobSamples, type JobDaemon } from './job-page.js';
import { compareRecordings, openRecording } from './show-view.js';
import { pageTests, type PageAt } from './page-tests.js';

let job: JobDaemon;
const tests = pageTests(async (page) => (job = await jobDaemon(page, await jobSamples())));

/** Opens the view on a folder of recordings. */
async function openJob(wishes?: PageAt): Promise<Page> {
  const page = await tests.open({ at: '#/job', ...wishes });
  await page.getByRole('heading', { name: 'Recordings of this job' }).waitFor();
  return page;
}

describe('the list of recordings', () => {
  it('says of each when, how long, what came out and whether it is intact, the newest first', async () => {
    const page = await openJob();
    const row = (file: string): Locator => page.locator('li').filter({ hasText: file });
    await row('with-heatsink.ndjson').getByText('No alarm.').waitFor();
    expect(await page.locator('rm-job-list .open').first().innerText()).toBe('26 November 2026, 19:05');
    await row('no-heatsink.ndjson')
      .getByText(/6 alarms, the gravest: Logic regulator tab: .* over its limit/)
      .waitFor();
    await row('soak.ndjson.gz').getByText('8 h 00 min').waitFor();
    await row('cut-off.ndjson').getByText('cut off', { exact: true }).waitFor();
    await row('shopping.ndjson')
      .getByText(/Can’t be opened/)
      .waitFor();
    expect(await row('shopping.ndjson').getByRole('button').count()).toBe(0);
  });

  it('that is empty says what to do', async () => {
    for (const file of await readdir(job.folder)) await rm(join(job.folder, file));
    const page = await openJob();
    await page.getByText('No recordings yet.').waitFor();
    await page.getByText(/railminder watch/).waitFor();
  });

  it('that can’t be had says why and tries again', async () => {
    const page = await openJob();
    job.trouble = 'Too much is being read at once; try again in a moment.';
    await page.locator('[data-file="no-heatsink.ndjson"]').click();
    await page.getByRole('alert').getByText('Too much is being read at once').waitFor();
    job.trouble = null;
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByRole('heading', { name: /^Recording of/ }).waitFor();
    // The refused answer is what this case is about.
    tests.allowFailedRequests();
  });
});

describe('a recording', () => {
  it('is opened, gone through and left again by keyboard alone', async () => {
    const page = await openJob();
    await page.locator('[data-file="no-heatsink.ndjson"]').focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: /^Recording of/ }).waitFor();
    // The first alarm of the sample's own list: 0:31.
    await page.getByRole('heading', { name: 'Then, 00:31 into the recording' }).waitFor();
    const bar = page.getByRole('slider', { name: 'Moment of the recording' });
    await bar.focus();
    await page.keyboard.press('ArrowRight');
    await page.getByRole('heading', { name: 'Then, 00:32 into the recording' }).waitFor();
    expect(await bar.getAttribute('aria-valuetext')).toBe('00:32 of 05:00');
    await page.keyboard.press('End');
    await page.getByRole('heading', { name: 'Then, 05:00 into the recording' }).waitFor();
    await page.keyboard.press('Home');
    await page.getByRole('heading', { name: 'Then, 00:00 into the recording' }).waitFor();
    await page.getByRole('button', { name: 'Next event' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Then, 00:31 into the recording' }).waitFor();
    await page.getByRole('button', { name: 'Closer' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: '00:15 to 02:45' }).waitFor();
    await expect
      .poll(() => job.asked.at(-1))
      .toMatchObject({ kind: 'overview', fromMs: 15_500, toMs: 165_500 });
    await page.getByRole('button', { name: 'All recordings' }).focus();
    await page.keyboard.press('Enter');
    await page.locator('[data-file="no-heatsink.ndjson"]:focus').waitFor();
  });

  it('shows how everything stood then, and never as if it were now', async () => {
    const page = await openJob();
    await openRecording(page, 'no-heatsink.ndjson');
    const then = page.locator('rm-job-moment');
    await then.getByText('Recorded, not live').waitFor();
    await then.getByText('1 alarm stood then').waitFor();
    await then.locator('li').filter({ hasText: 'Logic regulator tab' }).getByText('73.4').first().waitFor();
    expect(await then.getByRole('button').count()).toBe(0);
    await page.getByRole('slider').fill('20000');
    await then.getByText('No alarm stood then').waitFor();
  });

  it('plays on by itself, a hundred times as fast, to its end', async () => {
    const page = await openJob();
    await openRecording(page, 'no-heatsink.ndjson');
    await page.getByRole('button', { name: '100×' }).click();
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByRole('heading', { name: 'Then, 05:00 into the recording' }).waitFor();
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
  });

  it('is looked at closer with a mouse or a finger, and a press goes to that moment', async () => {
    const page = await openJob();
    await openRecording(page, 'no-heatsink.ndjson');
    const plot = page.locator('rm-recorded-plot').first();
    await plot.locator('canvas').waitFor();
    await plot.scrollIntoViewIfNeeded();
    const area = await plot.locator('.u-over').boundingBox();
    if (area === null) throw new Error('the chart is not there');
    const y = area.y + area.height / 2;
    await page.mouse.move(area.x + area.width * 0.2, y);
    await page.mouse.down();
    await page.mouse.move(area.x + area.width * 0.6, y, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => job.asked.at(-1)?.kind).toBe('overview');
    await page.getByRole('heading', { name: '01:00 to 03:00' }).waitFor();
    await page.mouse.click(area.x + area.width / 2, y);
    await page.getByRole('heading', { name: /^Then, (01:59|02:00) into/ }).waitFor();
  });

  it('each chart says its value, band and trend at the moment', async () => {
    const page = await openJob();
    await openRecording(page, 'no-heatsink.ndjson');
    const chart = page.getByRole('img', { name: /^Recorded logic regulator tab/ });
    await chart.waitFor();
    expect(await chart.getAttribute('aria-label')).toMatch(
      /00:00 to 05:00\. At 00:31: 73\.4\s°C, rising .* a minute\. Here .*; predicted .*\s°C\. Alarms at 00:31, 00:37, 00:52, 02:45\.$/,
    );
  });

  it('that is damaged says so above everything', async () => {
    const page = await openJob();
    await openRecording(page, 'cut-off.ndjson');
    await page.getByText('This recording is not as it was written.').waitFor();
  });

  it('gives its report and its tables', async () => {
    const page = await openJob();
    await openRecording(page, 'with-heatsink.ndjson');
    const [report] = await Promise.all([
      page.waitForEvent('popup'),
      page.getByRole('link', { name: 'Report of this session, to print and sign' }).click(),
    ]);
    await report.getByRole('heading', { level: 1, name: 'signal cabin' }).waitFor();
    expect(await report.evaluate(() => getComputedStyle(document.body).maxWidth)).toBe('780px');
    await report.close();
    const [table] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Every reading, as recorded' }).click(),
    ]);
    expect(table.suggestedFilename()).toBe('with-heatsink-readings.csv');
    expect((await readFile(await table.path(), 'utf8')).split('\r\n')).toHaveLength(4318);
    expect(job.asked.at(-1)).toMatchObject({ kind: 'csv', form: 'readings' });
  });
});

describe('two recordings', () => {
  it('are compared over one axis, the earlier one first, with a sentence for each test point', async () => {
    const page = await openJob();
    await compareRecordings(page, ['no-heatsink.ndjson', 'with-heatsink.ndjson']);
    await expect
      .poll(() => job.asked)
      .toContainEqual({ kind: 'compare', before: 'no-heatsink.ndjson', after: 'with-heatsink.ndjson' });
    await page
      .locator('figure', { hasText: 'Logic regulator tab' })
      .getByText(/^Temperature 1:59 after power-on down/)
      .waitFor();
    await page.locator('rm-recorded-plot canvas').first().waitFor();
    const chart = page.getByRole('img', { name: /^Logic regulator tab of both sessions/ });
    // The band stands in the first line of the later recording: 44.73 to 78.95 degrees C.
    expect(await chart.getAttribute('aria-label')).toMatch(
      /Temperature 1:59 after power-on down .*\. Predicted 44\.7 to 78\.9\s°C\.$/,
    );
  });

  it('a third one can’t be chosen', async () => {
    const page = await openJob();
    const boxes = page.locator('rm-job-list').getByRole('checkbox');
    await boxes.nth(0).check();
    await page.getByRole('button', { name: 'Compare: choose one more' }).waitFor();
    await boxes.nth(1).check();
    expect(await boxes.nth(2).isDisabled()).toBe(true);
  });
});

describe('for everybody', () => {
  it.each([320, 360, 1280])('%d px hold it without sideways scrolling', async (width) => {
    const page = await openJob({ width });
    const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
    await page.getByText('cut off', { exact: true }).waitFor();
    expect(await wide()).toBeLessThanOrEqual(width);
    await compareRecordings(page, ['no-heatsink.ndjson', 'with-heatsink.ndjson']);
    expect(await wide()).toBeLessThanOrEqual(width);
    await page.getByRole('button', { name: 'All recordings' }).click();
    await openRecording(page, 'no-heatsink.ndjson');
    await page.locator('rm-recorded-plot canvas').first().waitFor();
    expect(await wide()).toBeLessThanOrEqual(width);
    for (const control of await page
      .locator('main button:visible, main input:visible, main a[href]:visible')
      .all()) {
      const box = await control.boundingBox();
      // WCAG 2.2, 2.5.8.
      expect(Math.min(box?.width ?? 0, box?.height ?? 0), await control.innerText()).toBeGreaterThanOrEqual(
        24,
      );
    }
  });

  it('a lost daemon leaves the recording as it is, says so, and nothing plays on', async () => {
    const page = await openJob();
    await openRecording(page, 'no-heatsink.ndjson');
    job.daemon.goAway();
    job.trouble = 'It could not be read: the disk went away';
    await page.getByText('Not live: nothing heard').waitFor();
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByRole('alert').getByText('the disk went away').waitFor();
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    // The refused answer is what this case is about.
    tests.allowFailedRequests();
  });
});
