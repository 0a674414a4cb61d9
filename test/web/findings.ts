import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type axe from 'axe-core';
import type { Page } from 'playwright-core';

/** WCAG 2.2 at the levels A and AA (each version's criteria have a tag of their own), and common practice besides. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

let source: Promise<string> | null = null;

/** What the accessibility checker finds: rule and place, nothing left out. */
export async function findings(page: Page): Promise<readonly string[]> {
  source ??= readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  await page.evaluate(await source);
  const { violations } = await page.evaluate(
    (values) => (window as unknown as { axe: typeof axe }).axe.run({ runOnly: { type: 'tag', values } }),
    TAGS,
  );
  return violations.flatMap((one) => one.nodes.map((node) => `${one.id}: ${node.target.join(' ')}`));
}
