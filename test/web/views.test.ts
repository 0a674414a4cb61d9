import { describe, expect, it } from 'vitest';
import { VIEWS } from '../../web/views/registry.js';
import type { FakeDaemon } from './fake-daemon.js';
import { startFullDaemon } from './full-daemon.js';
import { pageTests } from './page-tests.js';
import { calm, HOT_CASE, troubled } from './signal-cabin.js';

let daemon: FakeDaemon;
const { open } = pageTests(async (page) => (daemon = await startFullDaemon(page, calm())));

describe('the views', () => {
  it('each has a name, a title, a key and an element of its own', () => {
    for (const key of ['name', 'title', 'key', 'tag'] as const) {
      expect(new Set(VIEWS.map((view) => view[key])).size).toBe(VIEWS.length);
    }
  });

  it('each is shown at its address, marked in the navigation, and named in the title unless it is the first', async () => {
    const page = await open();
    for (const { name, title, tag } of VIEWS) {
      await page.getByRole('navigation', { name: 'Views' }).getByRole('link', { name: title }).click();
      await page.locator(tag).waitFor();
      expect(page.url()).toContain(`#/${name}`);
      expect(await page.locator('rm-views-line a[aria-current=page]').innerText()).toBe(title);
      expect((await page.title()).startsWith(`${title} – `)).toBe(name !== VIEWS[0].name);
    }
  });

  it('an address that names no view shows the first one', async () => {
    const page = await open({ at: '#/nowhere' });
    await page.locator(VIEWS[0].tag).waitFor();
  });

  it('the browser goes back and forth between them', async () => {
    const page = await open({ at: '#/design' });
    await page.locator('rm-design-view').waitFor();
    await page.keyboard.press('b');
    await page.locator('rm-bench-view').waitFor();
    await page.goBack();
    await page.locator('rm-design-view').waitFor();
  });

  it('their keys stand in the list of keys', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    await page.keyboard.press('?');
    for (const { title } of VIEWS) await page.getByText(`go to ${title}`).waitFor();
  });

  it('every one of them comes with the page, so that none fails when the daemon has gone', async () => {
    const page = await open();
    await page.getByText('All well').waitFor();
    await page.route('**/*.js', (route) => route.abort());
    for (const { key, tag } of VIEWS) {
      await page.keyboard.press(key);
      await page.locator(tag).waitFor();
    }
  });
});

describe('on a view that is not the bench', () => {
  it.each([360, 1280])('%d px: what is wrong stays in sight, however far one scrolls', async (width) => {
    daemon.snapshot = troubled();
    const page = await open({ at: '#/design', width });
    await page.getByRole('heading', { name: 'What it should read' }).waitFor();
    await page.evaluate(() => window.scrollTo(0, document.documentElement.scrollHeight));
    const box = await page.locator('rm-glance').boundingBox();
    expect(box?.y).toBeGreaterThanOrEqual(0);
    expect((box?.y ?? 0) + (box?.height ?? 0)).toBeLessThanOrEqual(400);
    await page.locator('rm-alarm-strip').getByText('3 alarms').waitFor();
  });

  it('an alarm comes at once and is acknowledged there, by button and by key', async () => {
    const page = await open({ at: '#/design' });
    await page.getByRole('heading', { name: 'What it should read' }).waitFor();
    expect(await page.locator('rm-alarm-strip button').count()).toBe(0);
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await page.getByRole('button', { name: `Acknowledge: ${HOT_CASE.spoken}` }).click();
    await page.getByRole('heading', { name: 'The design, and what comes of it' }).click();
    await page.keyboard.press('a');
    await expect
      .poll(() => daemon.receivedOf('acknowledge'))
      .toEqual([
        { kind: 'acknowledge', alarm: HOT_CASE.id },
        { kind: 'acknowledge', alarm: HOT_CASE.id },
      ]);
  });

  it('a lost bench is told there too', async () => {
    const page = await open({ at: '#/design' });
    await page.getByRole('heading', { name: 'What it should read' }).waitFor();
    daemon.goAway();
    await page.locator('rm-glance').getByText('Not live: nothing heard').waitFor();
  });
});

describe('a first visit', () => {
  it('is told what stands where, until it has been read', async () => {
    const page = await open();
    await page.getByRole('button', { name: 'Got it' }).click({ timeout: 8000 });
    expect(await page.getByRole('button', { name: 'Got it' }).count()).toBe(0);
    await page.reload();
    await page.getByText('All well').waitFor();
    expect(await page.getByRole('button', { name: 'Got it' }).count()).toBe(0);
  });
});
