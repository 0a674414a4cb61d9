import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { loadBench } from '../../daemon/design/load.js';
import { CABIN_BENCH } from '../daemon/desk/cabin-text.js';
import { OWN_BENCH } from '../daemon/desk/instrument-bench.js';
import { startInstrumentPage, type InstrumentPage } from './instrument-page.js';
import { findings } from './findings.js';
import { pageTests, type PageAt } from './page-tests.js';

let bench: InstrumentPage;
const tests = pageTests(async (page) => (bench = await startInstrumentPage(page)));

async function open(wishes?: PageAt): Promise<Page> {
  const page = await tests.open({ at: '#/instruments', ...wishes });
  await page.getByRole('heading', { name: 'probes' }).waitFor();
  return page;
}

/** What a person would call what has the focus, through every shadow root. */
function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    const labels = at instanceof HTMLInputElement || at instanceof HTMLSelectElement ? at.labels : null;
    const label = labels?.[0] as HTMLElement | undefined;
    return (label?.innerText ?? at?.getAttribute('aria-label') ?? at?.textContent ?? '')
      .replace(/\s+/g, ' ')
      .trim();
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

async function listened(page: Page): Promise<void> {
  await page.getByRole('button', { name: `Listen at ${bench.port}` }).click();
  await page.getByRole('button', { name: 'Add it to the bench file' }).waitFor({ timeout: 20_000 });
}

describe('with the keyboard alone', () => {
  it('a port is listened at, its board added, a channel named and placed, and the bench file saved', async () => {
    const page = await open();
    await tabTo(page, `Listen at ${bench.port}`);
    await page.keyboard.press('Enter');
    await page
      .getByRole('cell', { name: /^T1: 3\d\.\d C, T2/ })
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Add it to the bench file' }).waitFor({ timeout: 20_000 });
    await tabTo(page, 'Add it to the bench file');
    await page.keyboard.press('Enter');
    await page.getByText('board is added. Say where its probes sit, then save.').waitFor();
    expect(await focused(page)).toBe('The bench file');
    await tabTo(page, 'Remove board');
    await tabTo(page, /^t1 temperature/);
    await page.keyboard.press('Enter');
    await tabTo(page, 'Channel name');
    await page.keyboard.press('Control+A');
    await page.keyboard.type('lamp-bead');
    await page.keyboard.press('Enter');
    await page.getByText('lamp-bead', { exact: true }).waitFor();
    await tabTo(page, 'Its probe sits on');
    await page.keyboard.type('lamps.case');
    await page.keyboard.press('Tab');
    await page.getByText(/temperature, on lamps\.case/).waitFor();
    await tabTo(page, `Save ${OWN_BENCH}`, 'Shift+Tab');
    await page.keyboard.press('Enter');
    await page.getByText(`Saved as ${OWN_BENCH}. The running session goes on as it was started`).waitFor();
    const text = await bench.read(OWN_BENCH);
    expect(text).toContain(CABIN_BENCH.trimEnd());
    expect(loadBench(text, OWN_BENCH).instruments['board']).toMatchObject({
      link: { serial: bench.port, baud: 9600 },
      options: { pattern: 'T1: {lamp-bead} C, T2: {t2} C' },
      channels: { 'lamp-bead': { measures: 'temperature', at: 'lamps.case' } },
    });
  });
});

describe('the instruments view', () => {
  it('shows the raw lines of a running instrument beside its readings, and does not offer its port', async () => {
    const page = await open();
    await page.getByText('thermometer').first().click();
    await page.getByRole('cell', { name: 'T1: 41.3 C' }).waitFor();
    await page.getByRole('cell', { name: 't1 41.3 °C' }).waitFor();
    await page.getByText('in use as thermometer').waitFor();
    expect(await page.getByRole('button', { name: 'Listen at /dev/ttyACM0' }).count()).toBe(0);
  });

  it('a sensor is chosen and its values set; what will not do is said at the channel', async () => {
    const page = await open();
    const meter = page.getByRole('region', { name: 'meter', exact: true });
    await meter.getByText('volts', { exact: true }).click();
    await meter.getByLabel('Between probe and instrument').selectOption('divider');
    await meter.getByLabel('Divides by').fill('0.5');
    await meter.getByLabel('Divides by').blur();
    await meter.getByText(/found 0\.5.*from 1 to 100000/).waitFor();
    expect(await page.getByRole('button', { name: `Save ${OWN_BENCH}` }).isDisabled()).toBe(true);
    await meter.getByLabel('Divides by').fill('11');
    await meter.getByLabel('Divides by').blur();
    await page.getByRole('button', { name: `Save ${OWN_BENCH}` }).click();
    await page.getByText(`Saved as ${OWN_BENCH}.`).waitFor();
    const { instruments } = loadBench(await bench.read(OWN_BENCH), OWN_BENCH);
    expect(instruments['meter']?.channels['volts']?.sensor).toEqual({ divider: 11 });
  });

  it('a pattern is tried on lines before anything is written', async () => {
    const page = await open();
    const rails = page.getByRole('region', { name: 'rails', exact: true });
    await rails.getByText('Try it on lines').click();
    await rails.getByLabel('Lines as the board prints them').fill('ready\nLAMPS 12.03 V LOGIC 5.02 V');
    await rails.getByRole('cell', { name: /lamps\.volts 12\.03 V/ }).waitFor();
    await rails.getByRole('cell', { name: 'nothing' }).waitFor();
  });

  it('a name that is taken is refused, and a meter read by hand is added', async () => {
    const page = await open();
    const rails = page.getByRole('region', { name: 'rails', exact: true });
    await rails.getByLabel('Name', { exact: true }).fill('meter');
    await rails.getByLabel('Name', { exact: true }).blur();
    await page.getByText('Not changed: there is a meter already; choose another name.').waitFor();
    await page.getByRole('button', { name: 'Add a meter that is read by hand' }).click();
    await page.getByRole('region', { name: 'hand-meter' }).waitFor();
  });

  it('a page that is not live opens no port', async () => {
    const page = await open();
    await bench.stop();
    await page
      .getByText(/Not live/)
      .first()
      .waitFor({ timeout: 20_000 });
    const listen = page.getByRole('button', { name: `Listen at ${bench.port}` });
    await expect.poll(() => listen.isDisabled()).toBe(true);
    // The connections that were cut are what this case is about.
    tests.allowFailedRequests();
  });

  it('the accessibility checker finds nothing', { timeout: 180_000 }, async () => {
    const page = await open();
    await page.getByText('thermometer').first().click();
    await page.getByRole('cell', { name: 'T1: 41.3 C' }).waitFor();
    await listened(page);
    expect(await findings(page)).toEqual([]);
    const meter = page.getByRole('region', { name: 'meter', exact: true });
    await meter.getByText('volts', { exact: true }).click();
    await meter.getByLabel('Between probe and instrument').selectOption('thermocouple');
    await meter.getByLabel('Cold junction').waitFor();
    expect(await findings(page)).toEqual([]);
  });

  // 320 px is what WCAG 2.2, 1.4.10 (reflow) asks for.
  it.each([320, 360, 1280, 2560])('%d px without sideways scrolling', async (width) => {
    const page = await open({ width });
    await page.getByText('thermometer').first().click();
    await page.getByRole('cell', { name: 'T1: 41.3 C' }).waitFor();
    await listened(page);
    await page.getByText('volts', { exact: true }).last().click();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  });
});
