import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { COLD, walking } from './cabin-walk.js';
import type { FakeDaemon } from './fake-daemon.js';
import { startFullDaemon } from './full-daemon.js';
import { pageTests } from './page-tests.js';
import { chooseLargestText, showView } from './show-view.js';
import { calm, LOOSE_HEATSINK, troubled, withCutOffs } from './signal-cabin.js';

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFullDaemon(page, calm())));

const BUSY: SnapshotMessage = walking(COLD, { ...withCutOffs(troubled()), suspicion: LOOSE_HEATSINK });

async function enlarged(view: string, width: number): Promise<Page> {
  daemon.snapshot = BUSY;
  const page = await tests.open({ at: `#/${view}`, width, height: 640 });
  await showView(page, view);
  await chooseLargestText(page);
  return page;
}

describe('in the largest text', () => {
  // 320 px is what WCAG 2.2, 1.4.10 (reflow) asks for.
  it.each(
    ['bench', 'walk', 'job', 'design', 'instruments'].flatMap((view) => [
      [view, 320] as const,
      [view, 360] as const,
    ]),
  )('%s at %d px without sideways scrolling', async (view, width) => {
    const page = await enlarged(view, width);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  });

  it('what every point should read is still a table to a screen reader', async () => {
    const page = await enlarged('design', 360);
    // What Chromium tells screen readers, not what the tags would mean by themselves.
    const session = await page.context().newCDPSession(page);
    const { nodes } = await session.send('Accessibility.getFullAXTree');
    const count = (role: string): number => nodes.filter((node) => node.role?.value === role).length;
    const rows = await page.locator('rm-design-points tbody tr').count();
    expect(rows).toBeGreaterThan(10);
    expect(count('row')).toBe(rows + 1);
    expect(count('rowheader')).toBe(rows);
    expect(count('columnheader')).toBe(5);
    expect(count('cell')).toBe(4 * rows);
  });
});
