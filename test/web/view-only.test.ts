import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { VIEWS } from '../../web/views/registry.js';
import { COLD, FAILED, SIGNED, UNBEGUN, walkAt, walking } from './cabin-walk.js';
import type { FakeDaemon } from './fake-daemon.js';
import { startFullDaemon } from './full-daemon.js';
import { pageTests } from './page-tests.js';
import { onlyLooking, twelveAlarms } from './scenes.js';
import { showView } from './show-view.js';
import { calm, demo, HOT_CASE, NOW_MS, withCutOffs } from './signal-cabin.js';

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFullDaemon(page, calm())));

const TYPING = [{ point: 'logic.volts', instrument: 'meter', channel: 'volts', there: true }];

/** Everything that a page which may act could act on. */
const BUSY: SnapshotMessage = {
  ...withCutOffs(twelveAlarms()),
  demo: demo('heatsink-missing').demo,
  procedure: COLD,
  typing: TYPING,
};

/** Opens a view as somebody with the key that only looks. */
async function look(view: string, snapshot = BUSY): Promise<Page> {
  daemon.snapshot = onlyLooking(snapshot);
  const page = await tests.open({ at: `#/${view}` });
  await showView(page, view);
  return page;
}

/** The controls of a view by their names, the page's own at the top left out. */
async function controls(page: Page): Promise<readonly string[]> {
  const names = await page
    .locator('main')
    .locator('button:visible, select:visible, input:visible')
    .evaluateAll((all) =>
      all.map((one) => {
        const { labels, innerText } = one as HTMLInputElement;
        return (one.getAttribute('aria-label') ?? labels?.[0]?.innerText ?? innerText).trim();
      }),
    );
  return [...new Set(names)];
}

describe('a page that only looks', () => {
  it.each(VIEWS.map(({ name }) => name))('%s: says so once, above everything', async (view) => {
    const page = await look(view);
    await page.getByText('View only: ').waitFor();
    expect(await page.getByText(/view only/i).count()).toBe(1);
  });

  it('names no key that acts, on whichever view', async () => {
    const page = await look('walk');
    await page.keyboard.press('?');
    const keys = await page.locator('rm-keys dt').allInnerTexts();
    expect(keys).toEqual(['s', 't', '1 5 9 6', '0', ', .', '+ -', 'v', 'p', '?', 'b', 'w', 'j', 'd', 'i']);
    await page.keyboard.press('Escape');
    daemon.snapshot = BUSY;
    await page.reload();
    await showView(page, 'walk');
    await page.keyboard.press('?');
    const acting = await page.locator('rm-keys dt').allInnerTexts();
    expect(acting.filter((key) => !keys.includes(key))).toEqual([
      'a',
      'Enter Space PgDn → ↓',
      'PgUp ← ↑',
      'Esc',
      'n',
      'f',
      'y',
      'o',
      'u',
      'x',
    ]);
  });

  it('bench: looks closer, chooses and moves along the time, and acts on nothing', async () => {
    const page = await look('bench');
    const left = (await controls(page)).filter((name) => !/ rail$/.test(name));
    expect(left).toEqual([
      'Got it',
      'Mains',
      'Transformer',
      'Rectifier',
      'Reservoir',
      'Air around it',
      '1 min',
      '5 min',
      '15 min',
      '1 h',
      'Whole session',
      'Earlier',
      'Later',
      'Zoom in',
      'Zoom out',
      'Now',
    ]);
    expect(await page.getByText('Switch a fault in').count()).toBe(0);
    await page.getByText('Now: Heatsink missing on the logic regulator.').waitFor();
    await page.getByText('Measured by probes t2').waitFor();
    await page.getByText('Armed; power is on.').waitFor();
  });

  it.each([
    ['not begun', UNBEGUN],
    ['cold', COLD],
    ['failed', FAILED],
    ['at the signature', walkAt('sign-off')],
    ['signed', SIGNED],
  ])('walk, %s: follows every step, and answers, overrides and signs nothing', async (_, procedure) => {
    const page = await look('walk', { ...walking(procedure), typing: TYPING });
    expect(await controls(page)).toEqual([]);
  });

  it('job: opens and compares recordings', async () => {
    const page = await look('job');
    expect(await controls(page)).toContain('Compare: choose two');
    await page.locator('[data-file="no-heatsink.ndjson"]').click();
    await page.getByRole('heading', { name: /^Then, / }).waitFor();
  });

  it('design: tries changes out and saves none', async () => {
    const page = await look('design');
    await page.getByText('tried out on this page alone; nothing is saved').waitFor();
    await page.getByLabel('R2, adjust to ground').fill('2210');
    // 1.25 V (1 + 2210 / 240) + 50 uA x 2210 ohm = 12.87 V.
    await page
      .getByRole('region', { name: 'Lamps rail' })
      .getByText(/^12\.8\d.V$|^12\.9\d.V$/)
      .waitFor();
    expect(await page.getByRole('button', { name: /save/i }).count()).toBe(0);
  });

  it('instruments: sees what runs, what is plugged in and the bench file, and opens no port', async () => {
    const page = await look('instruments');
    await page.getByText('in use as meter').waitFor();
    expect(await controls(page)).toEqual(['Look again']);
    await page.locator('pre').getByText('reservoir.volts').waitFor();
  });

  it('sends nothing, whatever key is pressed', async () => {
    const page = await look('bench');
    for (const { key } of VIEWS) {
      await page.keyboard.press(key);
      for (const letter of 'afnyoux') await page.keyboard.press(letter);
    }
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await page
      .locator('rm-announcer [role=alert]', { hasText: HOT_CASE.spoken })
      .waitFor({ state: 'attached' });
    expect(daemon.commands).toEqual([]);
  });

  it('sounds, speaks and takes preferences', async () => {
    const page = await look('bench', calm());
    const said = await page.evaluateHandle(() => {
      const words: string[] = [];
      SpeechSynthesis.prototype.getVoices = () => [{} as SpeechSynthesisVoice];
      SpeechSynthesis.prototype.speak = ({ text }) => void words.push(text);
      return words;
    });
    await page.getByRole('button', { name: 'Sound off: turn on' }).click();
    await page.getByRole('button', { name: 'Sound on' }).waitFor();
    await page.keyboard.press('v');
    const atMs = NOW_MS + 2;
    daemon.sendChanges({ settled: [{ point: 'logic.volts', atMs, value: 5.02, standardUncertainty: 0.01 }] });
    await expect.poll(() => said.evaluate((words) => words)).toEqual(['logic, five point oh two, inside']);
    await page.keyboard.press('p');
    await page.getByRole('radio', { name: '°F' }).check();
    await page.keyboard.press('Escape');
    await page.getByRole('img', { name: /logic regulator case.* 128\.8.°F/ }).waitFor();
  });
});
