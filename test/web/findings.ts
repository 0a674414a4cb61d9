import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

/** WCAG 2.2 at the levels A and AA (each version's criteria have a tag of their own), and common practice besides. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

const LOOKS = [
  { colorScheme: 'light', forcedColors: 'none' },
  { colorScheme: 'dark', forcedColors: 'none' },
  { colorScheme: 'light', forcedColors: 'active' },
] as const;

/** The rules whose outcome hangs on colours; every other one finds the same in every look. */
const COLOUR_RULES = ['color-contrast', 'link-in-text-block'];

let source: Promise<string> | null = null;

/** What is found in light, in dark, and where the system forces its colours, each with the look it was found in. */
export async function findings(page: Page): Promise<readonly string[]> {
  const found: string[] = [];
  await page.evaluate(await (source ??= readFile(AXE, 'utf8')));
  for (const [place, look] of LOOKS.entries()) {
    await page.emulateMedia(look);
    const words = look.forcedColors === 'active' ? 'forced colours' : look.colorScheme;
    const what: axe.RunOnly =
      place === 0 ? { type: 'tag', values: TAGS } : { type: 'rule', values: COLOUR_RULES };
    found.push(...(await findingsNow(page, what)).map((one) => `${words}: ${one}`));
  }
  return found;
}

/** What the accessibility checker finds: rule and place, nothing left out. */
async function findingsNow(page: Page, what: axe.RunOnly): Promise<readonly string[]> {
  const { violations } = await page.evaluate(
    (runOnly) =>
      // What passes is counted, not described: that takes longer than looking.
      (window as unknown as { axe: typeof axe }).axe.run({ runOnly, resultTypes: ['violations'] }),
    what,
  );
  return violations.flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.target.join(' ')}`));
}
