import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

/** WCAG 2.2 at the levels A and AA (each version's criteria have a tag of their own), and common practice besides. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

const LOOKS = [
  { colorScheme: 'light', forcedColors: 'none' },
  { colorScheme: 'dark', forcedColors: 'none' },
  { colorScheme: 'light', forcedColors: 'active' },
] as const;

let source: Promise<string> | null = null;

/** What is found in light, in dark, and where the system forces its colours, each with the look it was found in. */
export async function findings(page: Page): Promise<readonly string[]> {
  const found: string[] = [];
  for (const look of LOOKS) {
    await page.emulateMedia(look);
    const words = look.forcedColors === 'active' ? 'forced colours' : look.colorScheme;
    found.push(...(await findingsNow(page)).map((one) => `${words}: ${one}`));
  }
  return found;
}

/** What the accessibility checker finds: rule and place, nothing left out. */
async function findingsNow(page: Page): Promise<readonly string[]> {
  source ??= readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  await page.evaluate(await source);
  const { violations } = await page.evaluate(
    (values) => (window as unknown as { axe: typeof axe }).axe.run({ runOnly: { type: 'tag', values } }),
    TAGS,
  );
  return violations.flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.target.join(' ')}`));
}
