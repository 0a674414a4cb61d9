import type { Page } from 'playwright-core';
import { describe, expect, it, vi } from 'vitest';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { VIEWS } from '../../web/views/registry.js';
import { FAILED, WALK_SCENES, walkAt, walking } from './cabin-walk.js';
import { reservoirCapture } from './captures.js';
import type { FakeDaemon } from './fake-daemon.js';
import { findings } from './findings.js';
import { startFullDaemon } from './full-daemon.js';
import { pageTests, type PageAt } from './page-tests.js';
import { eightRails, oneRail, onlyLooking, staleBoard, twelveAlarms } from './scenes.js';
import { compareRecordings, openRecording, showView } from './show-view.js';
import { calm, demo, HOT_CASE, LOOSE_HEATSINK, troubled, unprobed, withCutOffs } from './signal-cabin.js';

type Scenes = Readonly<Record<string, SnapshotMessage>>;

const READ_BY_HAND: SnapshotMessage = {
  ...calm(),
  points: calm().points.map((point) => (point.id === 'lamps.volts' ? { ...point, typed: true } : point)),
  typing: [
    { point: 'lamps.volts', instrument: 'meter', channel: 'volts', there: true },
    { point: 'logic.junction', instrument: 'meter', channel: 'a', there: false },
  ],
};

/** What each view shows differently; the alarms are pinned above every one but the first. */
const SCENES: Readonly<Record<string, Scenes>> = {
  bench: {
    calm: calm(),
    'one rail': oneRail(),
    'eight rails': eightRails(),
    'no instrument': unprobed(),
    'a stale instrument': staleBoard(),
    trouble: troubled(),
    'twelve alarms': twelveAlarms(),
    'trouble in the demo': { ...troubled(), demo: demo('heatsink-missing').demo },
    'cut-offs': withCutOffs(troubled()),
    'a suspicion and a capture': { ...calm(), suspicion: LOOSE_HEATSINK, captures: [reservoirCapture()] },
    'a meter read by a person': READ_BY_HAND,
    'only looking': onlyLooking(withCutOffs({ ...twelveAlarms(), demo: demo().demo })),
  },
  walk: {
    ...WALK_SCENES,
    'a stale instrument': walking(walkAt('rails'), staleBoard()),
    'twelve alarms': walking(walkAt('rails'), twelveAlarms()),
    'only looking': onlyLooking(walking(walkAt('rails'))),
  },
  job: { calm: calm(), 'twelve alarms': twelveAlarms() },
  design: { calm: calm(), 'twelve alarms': twelveAlarms(), 'only looking': onlyLooking(calm()) },
  instruments: {
    calm: calm(),
    'no instrument': unprobed(),
    'a stale instrument': staleBoard(),
    'twelve alarms': twelveAlarms(),
    'a meter read by a person': READ_BY_HAND,
    'only looking': onlyLooking(calm()),
  },
};

/** A look at one scene in every theme takes the checker a few seconds. */
vi.setConfig({ testTimeout: 90_000 });

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFullDaemon(page, calm())));

/** Shows a scene on a view, once everything of it is there. */
async function onScene(view: string, scene: SnapshotMessage, wishes: PageAt = {}): Promise<Page> {
  daemon.snapshot = scene;
  const page = await tests.open({ at: `#/${view}`, ...wishes });
  await showView(page, view);
  return page;
}

it('every view has its scenes here', () => {
  expect(Object.keys(SCENES).toSorted()).toEqual(VIEWS.map(({ name }) => name).toSorted());
});

describe.each(Object.keys(SCENES))('%s: the accessibility checker finds nothing in any look', (view) => {
  it.each(Object.keys(SCENES[view]!))('%s', async (scene) => {
    const page = await onScene(view, SCENES[view]![scene]!);
    expect(await findings(page)).toEqual([]);
  });

  it('not live', async () => {
    const page = await onScene(view, { ...troubled(), procedure: walkAt('rails') });
    daemon.goAway();
    await page.getByText('Not live: nothing heard').waitFor();
    expect(await findings(page)).toEqual([]);
  });

  it('an alarm that comes is told to screen readers', async () => {
    const page = await onScene(view, calm());
    daemon.sendChanges({ alarms: [HOT_CASE] });
    await page
      .locator('rm-announcer [role=alert]', { hasText: HOT_CASE.spoken })
      .waitFor({ state: 'attached' });
  });
});

describe('the accessibility checker finds nothing', () => {
  it('with the pointer on a pressed button', async () => {
    const page = await onScene('bench', troubled());
    await page.getByRole('button', { name: '5 min', pressed: true }).hover();
    expect(await findings(page)).toEqual([]);
  });

  it('with the reason for an override asked', async () => {
    const page = await onScene('walk', walking(FAILED));
    await page.keyboard.press('o');
    await page.getByLabel('Why you go on all the same').waitFor();
    expect(await findings(page)).toEqual([]);
  });

  it('with a part of the supply open', async () => {
    const page = await onScene('bench', troubled());
    await page.getByRole('button', { name: 'Logic rail' }).click();
    await page.getByRole('region', { name: 'Logic rail' }).waitFor();
    expect(await findings(page)).toEqual([]);
  });

  it('while a probe is followed', async () => {
    const page = await onScene('bench', calm());
    await page.getByRole('button', { name: 'Follow this probe' }).click();
    await page.getByRole('button', { name: 'Next' }).waitFor();
    expect(await findings(page)).toEqual([]);
  });

  it.each(['?', 'p'])('with the sheet that %s opens', async (key) => {
    const page = await onScene('bench', troubled());
    await page.keyboard.press(key);
    await page.getByRole('dialog').waitFor();
    expect(await findings(page)).toEqual([]);
  });
});

describe('job: the accessibility checker finds nothing', () => {
  it('a recording that was cut off', async () => {
    const page = await onScene('job', calm());
    await openRecording(page, 'cut-off.ndjson');
    expect(await findings(page)).toEqual([]);
  });

  it('a comparison', async () => {
    const page = await onScene('job', calm());
    await compareRecordings(page, ['no-heatsink.ndjson', 'with-heatsink.ndjson']);
    expect(await findings(page)).toEqual([]);
  });
});

describe('the page fits', () => {
  // 320 px is what WCAG 2.2, 1.4.10 (reflow) asks for.
  it.each([
    ['twelve alarms', twelveAlarms()],
    ['eight rails', eightRails()],
    ['cut-offs in the demo', withCutOffs({ ...calm(), demo: demo().demo })],
  ])('%s without sideways scrolling from 320 to 2560 px', async (_, scene) => {
    const page = await onScene('bench', scene);
    await page.locator('rm-plot canvas').first().waitFor();
    for (const width of [320, 360, 800, 1280, 2560]) {
      await page.setViewportSize({ width, height: 800 });
      await page.evaluate(() => new Promise((painted) => requestAnimationFrame(() => setTimeout(painted))));
      expect(
        await page.evaluate(() => document.documentElement.scrollWidth),
        `${width} px`,
      ).toBeLessThanOrEqual(width);
    }
  });

  it('a finger: no button or field smaller than 24 px (WCAG 2.2, 2.5.8)', async () => {
    const page = await onScene('bench', withCutOffs({ ...troubled(), demo: demo().demo }), { width: 360 });
    const controls = await page
      .locator('button:visible, select:visible, input:visible, a[href]:visible')
      .all();
    for (const control of controls) {
      const box = await control.boundingBox();
      expect(Math.min(box?.width ?? 0, box?.height ?? 0), await control.innerText()).toBeGreaterThanOrEqual(
        24,
      );
    }
  });
});

it('every standing keeps its word when the system forces its colours', async () => {
  const page = await onScene('bench', troubled(), { forcedColors: 'active' });
  for (const word of ['outside', 'doubtful', 'overload', 'inside', 'not measured', 'stale for']) {
    await page.locator('rm-supply .verdict', { hasText: word }).first().waitFor();
  }
});
