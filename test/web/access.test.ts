import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { buildPage, type BuiltPage } from './built-page.js';
import { startChromium } from './chromium.js';
import { FakeDaemon } from './fake-daemon.js';
import { reservoirCapture } from './captures.js';
import { openPage, type PageWishes } from './open-page.js';
import { calm, demo, troubled, unprobed, withCutOffs } from './signal-cabin.js';

const SCENES: Readonly<Record<string, SnapshotMessage>> = {
  calm: calm(),
  troubled: troubled(),
  'demo with trouble': { ...troubled(), demo: demo('heatsink-missing').demo },
  'cut-offs': withCutOffs(troubled()),
  'nothing measured': unprobed(),
  'a capture': { ...calm(), captures: [reservoirCapture()] },
  'a meter read by a person': {
    ...calm(),
    points: calm().points.map((point) => (point.id === 'lamps.volts' ? { ...point, typed: true } : point)),
    typing: [
      { point: 'lamps.volts', instrument: 'meter', channel: 'volts', there: true },
      { point: 'logic.junction', instrument: 'meter', channel: 'a', there: false },
    ],
  },
};

let built: BuiltPage;
let browser: Browser;
let axeSource: string;

beforeAll(async () => {
  axeSource = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  [built, browser] = await Promise.all([buildPage(), startChromium()]);
});

afterAll(async () => {
  await browser.close();
  await built.remove();
});

/** Shows a scene, lets `look` at it, and sees that nothing went wrong meanwhile. */
async function onScene(
  scene: SnapshotMessage,
  wishes: PageWishes,
  look: (page: Page, daemon: FakeDaemon) => Promise<void>,
): Promise<void> {
  const daemon = new FakeDaemon(built.folder, scene);
  const { page, problems } = await openPage(browser, await daemon.start(), wishes);
  try {
    await page.getByText('From mains to load').waitFor();
    await page.locator('rm-supply .block').first().waitFor();
    await look(page, daemon);
    expect(problems).toEqual([]);
  } finally {
    await page.close();
    await daemon.stop();
  }
}

/** What the accessibility checker finds: rule and place, nothing left out. */
async function findings(page: Page): Promise<readonly string[]> {
  await page.evaluate(axeSource);
  const result = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run());
  return result.violations.flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.target.join(' ')}`));
}

describe('the accessibility checker finds nothing', () => {
  for (const colorScheme of ['light', 'dark'] as const) {
    it.each(Object.keys(SCENES))(`${colorScheme}: %s`, async (name) => {
      await onScene(SCENES[name]!, { colorScheme }, async (page) => expect(await findings(page)).toEqual([]));
    });

    it(`${colorScheme}: not live`, async () => {
      await onScene(troubled(), { colorScheme }, async (page, daemon) => {
        daemon.goAway();
        await page.getByText('Not live: nothing heard').waitFor();
        expect(await findings(page)).toEqual([]);
      });
    });
  }

  it('with the pointer on a pressed button', async () => {
    await onScene(troubled(), {}, async (page) => {
      await page.getByRole('button', { name: '5 min', pressed: true }).hover();
      expect(await findings(page)).toEqual([]);
    });
  });

  it('with a part of the supply open', async () => {
    await onScene(troubled(), {}, async (page) => {
      await page.getByRole('button', { name: 'Logic rail' }).click();
      await page.getByRole('region', { name: 'Logic rail' }).waitFor();
      expect(await findings(page)).toEqual([]);
    });
  });

  it('while a probe is followed', async () => {
    await onScene(calm(), {}, async (page) => {
      await page.getByRole('button', { name: 'Follow this probe' }).click();
      await page.getByRole('button', { name: 'Next' }).waitFor();
      expect(await findings(page)).toEqual([]);
    });
  });

  it('with the list of keys open', async () => {
    await onScene(troubled(), {}, async (page) => {
      await page.keyboard.press('?');
      await page.getByRole('dialog').waitFor();
      expect(await findings(page)).toEqual([]);
    });
  });
});

describe('the page fits', () => {
  // 320 px is what WCAG 2.2, 1.4.10 (reflow) asks for.
  it.each([320, 360, 800, 1280, 2560])('%d px without sideways scrolling', async (width) => {
    for (const scene of [troubled(), withCutOffs({ ...calm(), demo: demo().demo })]) {
      await onScene(scene, { width }, async (page) => {
        await page.locator('rm-plot canvas').first().waitFor();
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      });
    }
  });

  it('a finger: no button or field smaller than 24 px (WCAG 2.2, 2.5.8)', async () => {
    await onScene(withCutOffs({ ...troubled(), demo: demo().demo }), { width: 360 }, async (page) => {
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
});

it('every standing keeps its word when the system forces its colours', async () => {
  await onScene(troubled(), { forcedColors: 'active' }, async (page) => {
    for (const word of ['outside', 'doubtful', 'overload', 'inside', 'not measured', 'stale for']) {
      await page.locator('rm-supply .verdict', { hasText: word }).first().waitFor();
    }
  });
});
