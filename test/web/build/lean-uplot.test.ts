import { readFile } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { build, type Plugin, type Rolldown } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { leanScript, leanUplot } from '../../../web/build/lean-uplot.js';
import { startChromium } from '../chromium.js';

const ENTRY = new URL('charts-in-use.ts', import.meta.url).pathname;
const UPLOT = new URL('../../../node_modules/uplot/dist/uPlot.esm.js', import.meta.url);

let browser: Browser;
beforeAll(async () => {
  browser = await startChromium();
});
afterAll(() => browser.close());

/** What the page's charts look like and tell with uPlot as the plugins leave it. */
async function seenWith(plugins: Plugin[], seed: number): Promise<readonly string[]> {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    plugins,
    build: { write: false, lib: { entry: ENTRY, formats: ['iife'], name: 'charts' } },
  });
  const { output } = (Array.isArray(built) ? built[0] : built) as Rolldown.RolldownOutput;
  const page = await browser.newPage();
  await page.addScriptTag({ content: output[0].code });
  const seen = await page.evaluate<readonly string[]>(`charts.seenOfCharts(${seed})`);
  await page.close();
  return seen;
}

describe('the trimmed uPlot', () => {
  it.each([20_261, 7, 991])(
    'draws and tells what the whole one does, to the pixel (seed %i)',
    async (seed) => {
      const whole = await seenWith([], seed);
      expect(whole.length).toBeGreaterThan(80);
      expect(new Set(whole).size).toBeGreaterThan(40);
      expect(await seenWith([leanUplot()], seed)).toEqual(whole);
    },
  );

  it('is refused where a text that is cut has changed', async () => {
    const code = await readFile(UPLOT, 'utf8');
    expect(() => leanScript(code.replace('function initScale(', 'function makeScale('))).not.toThrow();
    expect(() => leanScript(code.replace('function addSeries(', 'function appendSeries('))).toThrow(
      'a package has changed: no function addSeries(',
    );
    expect(() => leanScript(code.replaceAll('cursorFocus', 'nearFocus'))).toThrow('a package has changed');
  });
});
