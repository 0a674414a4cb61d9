import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closer, sheetsIn } from '../../../web/build/gathered-styles.js';
import { startChromium } from '../chromium.js';

const WEB = fileURLToPath(new URL('../../../web', import.meta.url));

let browser: Browser;
beforeAll(async () => {
  browser = await startChromium();
});
afterAll(() => browser.close());

/** The rules of each sheet as Chromium understands and writes them; what holds a `var()` it keeps as it was written. */
async function understood(sheets: readonly string[]): Promise<readonly (readonly string[])[]> {
  const page = await browser.newPage();
  return page.evaluate(
    (texts) =>
      texts.map((text) => {
        const sheet = new CSSStyleSheet();
        sheet.replaceSync(text);
        return [...sheet.cssRules].map(({ cssText }) =>
          cssText
            .replace(/\s*\n\s*/g, ' ')
            .replaceAll(', ', ',')
            .replace(/(?<![\d.])0\.(?=\d)/g, '.'),
        );
      }),
    sheets,
  );
}

describe('the gathered style sheets', () => {
  it('say to the browser what the elements wrote', async () => {
    const sheets = sheetsIn(WEB);
    expect(sheets.length).toBeGreaterThan(50);
    expect(await understood(sheets.map(closer))).toEqual(await understood(sheets));
  });

  it('are shorter, and leave a string as it is', () => {
    expect(closer("\n  li > a {\n    /* far */ list-style: '–  ';\n    gap: 0.5rem 1rem;\n  }\n")).toBe(
      "li>a{list-style:'–  ';gap:.5rem 1rem}",
    );
  });
});
