import { readdir } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { loadDesign } from '../../daemon/design/load.js';
import { CABIN } from '../daemon/desk/cabin-text.js';
import { OWN, startDesignBench, type DesignBench } from './design-bench.js';
import { findings } from './findings.js';
import { pageTests, type PageAt } from './page-tests.js';

let bench: DesignBench;
const tests = pageTests(async (page) => (bench = await startDesignBench(page)));

async function open(wishes?: PageAt): Promise<Page> {
  const page = await tests.open({ at: '#/design', ...wishes });
  await page.getByRole('heading', { name: 'What it should read' }).waitFor();
  return page;
}

/** The label of what has the focus, through every shadow root. */
function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    const labels = at instanceof HTMLInputElement || at instanceof HTMLSelectElement ? at.labels : null;
    return (labels?.[0]?.innerText ?? at?.getAttribute('aria-label') ?? at?.textContent ?? '').trim();
  });
}

/** Presses Tab until what has the focus is called so. */
async function tabTo(page: Page, name: string | RegExp, key = 'Tab'): Promise<void> {
  for (let presses = 0; presses < 150; presses += 1) {
    await page.keyboard.press(key);
    const at = await focused(page);
    if (typeof name === 'string' ? at === name : name.test(at)) return;
  }
  throw new Error(`no Tab leads to ${String(name)}`);
}

describe('with the keyboard alone', () => {
  it('a whole design with two rails from nothing, R2 changed, a cure applied, saved', async () => {
    const page = await open();
    await tabTo(page, 'New design');
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('What is it called?');
    await page.keyboard.type('Yard lights');
    await tabTo(page, 'Secondary volts');
    for (const typed of ['15', '30', '4700', 'lamps', '12', '0.5']) {
      await page.keyboard.type(typed);
      await page.keyboard.press('Tab');
    }
    await tabTo(page, 'One more rail');
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('Name of rail 2');
    for (const typed of ['bells', 'Tab', '9.5', 'Tab', '0.1']) {
      if (typed === 'Tab') await page.keyboard.press('Tab');
      else await page.keyboard.type(typed);
    }
    await page.keyboard.press('Enter');
    const bells = page.getByRole('region', { name: 'Bells rail' });
    await bells.waitFor();
    // LM317: 1.25 V (1 + R2 / 240) + 50 uA R2 = 9.5 V asks for 1569 ohm; 1580 ohm is next in E96 (IEC 60063).
    expect(await bells.getByLabel('R2, adjust to ground').inputValue()).toBe('1580');
    await tabTo(page, /^File name/);
    await tabTo(page, 'R2, adjust to ground');
    await tabTo(page, 'R2, adjust to ground');
    await page.keyboard.type('1300');
    // 1.25 V (1 + 1300 / 240) + 50 uA x 1300 ohm = 8.09 V.
    await bells.getByText(/^8\.0\d.V$|^8\.1\d.V$/).waitFor();
    await tabTo(page, 'Heatsink', 'Shift+Tab');
    await page.keyboard.type('none');
    await page.getByRole('heading', { name: 'Destroys something' }).waitFor();
    await page.keyboard.press('Escape');
    await tabTo(page, /^Apply: fit a heatsink/);
    await page.keyboard.press('Enter');
    await page.getByText(/^Applied: rails\.lamps\.cooling\.heatsink none → /).waitFor();
    await page.getByRole('heading', { name: 'Destroys something' }).waitFor({ state: 'detached' });
    expect(await focused(page)).toBe('Advice');
    await tabTo(page, 'Save', 'Shift+Tab');
    await page.keyboard.press('Enter');
    await page.getByText('Saved as yard-lights.design.yaml. It takes effect at the next start.').waitFor();
    const text = await bench.read('yard-lights.design.yaml');
    const design = loadDesign(text, 'yard-lights.design.yaml');
    expect(design.rails['bells']).toMatchObject({ regulator: 'LM317', r2: 1300 });
    expect(typeof design.rails['lamps']?.cooling?.heatsink).toBe('number');
    expect(text).toContain('# MAINS KILLS.');
    expect(text).toMatch(/r2: 1300 # adjust to ground/);
    expect(await bench.read(OWN)).toBe(CABIN);
  });

  it('the key d comes here, b goes back, and what was typed is still there', async () => {
    const page = await open();
    await page.getByLabel('Capacity', { exact: true }).fill('3300');
    await page.getByRole('heading', { name: 'The design, and what comes of it' }).click();
    await page.keyboard.press('b');
    await page.getByText('From mains to load').waitFor();
    expect(await page.title()).not.toContain('Design –');
    await page.keyboard.press('d');
    await page.getByLabel('Capacity', { exact: true }).waitFor();
    expect(await page.getByLabel('Capacity', { exact: true }).inputValue()).toBe('3300');
    expect(await page.title()).toMatch(/^(Not live – )?Design – /);
  });
});

describe('the opened design', () => {
  it('R2 moves the rail while it is typed; saved, one line of the file differs', async () => {
    const page = await open();
    await page.getByLabel('R2, adjust to ground').fill('2210');
    // 1.25 V (1 + 2210 / 240) + 50 uA x 2210 ohm = 12.87 V.
    await page
      .getByRole('region', { name: 'Lamps rail' })
      .getByText(/^12\.8\d.V$|^12\.9\d.V$/)
      .waitFor();
    await page.getByRole('button', { name: `Save ${OWN}` }).click();
    await page.getByText(`Saved as ${OWN}.`).waitFor();
    expect(await bench.read(OWN)).toBe(CABIN.replace('r2: 2050', 'r2: 2210'));
    expect(await readdir(bench.folder)).toEqual([OWN]);
  });

  it('what will not do is said at its field, in words, and is not saved', async () => {
    const page = await open();
    const field = page.getByLabel('Capacity', { exact: true });
    await field.fill('-3');
    await page.getByText('Found -3; a positive number of microfarads is allowed').waitFor();
    expect(await field.getAttribute('aria-describedby')).toContain('reservoir.capacity_uF-wrong');
    expect(await page.getByRole('button', { name: `Save ${OWN}` }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => field.inputValue()).toBe('4700');
    await page.getByText('Found -3').waitFor({ state: 'detached' });
  });

  it('a field keeps what is being typed, whatever the daemon makes of it', async () => {
    const page = await open();
    const field = page.getByLabel('Primary fuse');
    await field.fill('');
    await field.pressSequentially('0.0500', { delay: 60 });
    await expect.poll(() => field.inputValue()).toBe('0.0500');
    await field.blur();
    await expect.poll(() => field.inputValue()).toBe('0.05');
  });

  it('a file that changed meanwhile is not overwritten, and another name is offered', async () => {
    const page = await open();
    await page.getByLabel('Capacity', { exact: true }).fill('3300');
    await bench.write(OWN, `${CABIN}# somebody else\n`);
    await page.getByRole('button', { name: `Save ${OWN}` }).click();
    await page.getByText(/has been changed by another program/).waitFor();
    expect(await bench.read(OWN)).toContain('# somebody else');
    await page.getByRole('button', { name: 'Save under another name' }).click();
    await page.getByLabel('File name').fill('mine');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByText('Saved as mine.design.yaml.').waitFor();
    expect(await bench.read('mine.design.yaml')).toContain('capacity_uF: 3300');
  });

  it('a rail is added with parts suggested, and taken out again', async () => {
    const page = await open();
    await page.getByLabel('Name of the new rail').fill('bell');
    await page.getByLabel('Volts of the new rail').fill('90');
    await page.getByLabel('Amps at full load of the new rail').fill('0.1');
    await page.getByRole('button', { name: 'Add the rail' }).click();
    await page.getByText(/found "90"; a number from 1\.25 to/).waitFor();
    await page.getByLabel('Volts of the new rail').fill('9');
    await page.getByRole('button', { name: 'Add the rail' }).click();
    await page.getByRole('region', { name: 'Bell rail' }).waitFor();
    await page.getByRole('button', { name: 'Remove the bell rail' }).click();
    await page.getByRole('region', { name: 'Bell rail' }).waitFor({ state: 'detached' });
  });

  it('a daemon that is gone is told, and what was typed is kept', async () => {
    const page = await open();
    await page.route('**/design/preview', (route) => route.abort());
    await page.getByLabel('Capacity', { exact: true }).fill('3300');
    await page.getByText('Railminder doesn’t answer.').waitFor();
    await page.unroute('**/design/preview');
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByText('Railminder doesn’t answer.').waitFor({ state: 'detached' });
    await expect.poll(() => page.getByLabel('Capacity', { exact: true }).inputValue()).toBe('3300');
    // The refused requests are what this case is about.
    tests.allowFailedRequests();
  });
});

describe('the design view', () => {
  it('the accessibility checker finds nothing', { timeout: 120_000 }, async () => {
    const page = await open();
    await page.getByLabel('Heatsink', { exact: true }).last().fill('none');
    await page.getByRole('heading', { name: 'Destroys something' }).waitFor();
    await page.getByLabel('Capacity', { exact: true }).fill('-3');
    await page.getByText('Found -3;').waitFor();
    expect(await findings(page)).toEqual([]);
    await page.getByRole('button', { name: 'New design' }).click();
    await page.getByRole('button', { name: 'Make the design' }).waitFor();
    expect(await findings(page)).toEqual([]);
  });

  // 320 px is what WCAG 2.2, 1.4.10 (reflow) asks for.
  it.each([320, 360, 1280, 2560])('%d px without sideways scrolling', async (width) => {
    const page = await open({ width });
    await page.getByLabel('Heatsink', { exact: true }).last().fill('none');
    await page.getByRole('heading', { name: 'Destroys something' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.getByRole('button', { name: 'New design' }).click();
    await page.getByRole('button', { name: 'Make the design' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  });
});
