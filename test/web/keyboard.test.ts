import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { walkAt, walking } from './cabin-walk.js';
import type { FakeDaemon } from './fake-daemon.js';
import { startFullDaemon } from './full-daemon.js';
import { pageTests } from './page-tests.js';
import { chooseLargestText, compareRecordings, openRecording, showView } from './show-view.js';
import { calm, demo, troubled, withCutOffs } from './signal-cabin.js';

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFullDaemon(page, calm())));

const BUSY: SnapshotMessage = withCutOffs({ ...troubled(), demo: demo().demo });

const stay = (): Promise<void> => Promise.resolve();

const DESK = { width: 1280, height: 800 };
const PHONE = { width: 360, height: 640 };
/** A screen of 1280 by 1024 at 400 % (WCAG 2.2, 1.4.10). */
const ENLARGED = { width: 320, height: 256 };

type Place = readonly [
  name: string,
  view: string,
  shows: SnapshotMessage,
  go: (page: Page) => Promise<void>,
  size: { readonly width: number; readonly height: number },
];

/** A place of the page by its name: the view, what it shows, and how a person comes there. */
const PLACES: readonly Place[] = [
  ['bench', 'bench', BUSY, stay, DESK],
  ['walk', 'walk', walking(walkAt('rails'), troubled()), stay, DESK],
  ['job', 'job', troubled(), stay, DESK],
  ['a recording', 'job', troubled(), (page) => openRecording(page, 'no-heatsink.ndjson'), DESK],
  [
    'a comparison',
    'job',
    troubled(),
    (page) => compareRecordings(page, ['no-heatsink.ndjson', 'with-heatsink.ndjson']),
    DESK,
  ],
  ['design', 'design', troubled(), stay, DESK],
  ['instruments', 'instruments', troubled(), stay, DESK],
  ['walk on a phone', 'walk', walking(walkAt('rails'), troubled()), stay, PHONE],
  [
    'walk on a phone in the largest text',
    'walk',
    walking(walkAt('rails'), troubled()),
    chooseLargestText,
    PHONE,
  ],
  ['walk at 400 %', 'walk', walking(walkAt('rails'), troubled()), stay, ENLARGED],
];

it.each(PLACES)(
  '%s: Tab reaches every control, seen and not covered, and Shift+Tab leads back',
  { timeout: 120_000 },
  async (_, view, snapshot, go, size) => {
    daemon.snapshot = snapshot;
    const page = await tests.open({ at: `#/${view}`, ...size });
    await showView(page, view);
    await go(page);
    const controls = await page.evaluate(markControls);
    expect(controls.length).toBeGreaterThan(10);
    await page.evaluate(() => {
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    });
    const unseen: string[] = [];
    const reached = new Set<string>();
    for (const key of ['Tab', 'Shift+Tab']) {
      reached.clear();
      // Once round, from wherever it begins.
      for (let presses = 0; presses < 2 * controls.length && reached.size < controls.length; presses += 1) {
        await page.keyboard.press(key);
        const { number, fault } = await page.evaluate(focusedControl);
        if (number !== null) reached.add(number);
        if (fault !== null) unseen.push(fault);
      }
      expect(controls.filter((_name, number) => !reached.has(String(number)))).toEqual([]);
    }
    expect(unseen).toEqual([]);
  },
);

/** Runs in the page: numbers everything that a person can work, through every shadow root, and names it. */
function markControls(): string[] {
  const names: string[] = [];
  const look = (root: Document | ShadowRoot): void => {
    for (const one of root.querySelectorAll<HTMLElement>('*')) {
      if (one.shadowRoot) look(one.shadowRoot);
      const works = one.matches('button, select, input, textarea, a[href], summary, [tabindex="0"]');
      if (!works || one.matches(':disabled') || !one.checkVisibility({ visibilityProperty: true })) continue;
      one.dataset['control'] = String(names.length);
      names.push(`${one.localName} ${one.getAttribute('aria-label') ?? one.innerText}`.slice(0, 60));
    }
  };
  look(document);
  return names;
}

/** Runs in the page: which control has the focus, and what keeps a person from seeing that. */
function focusedControl(): { number: string | null; fault: string | null } {
  let at = document.activeElement;
  while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
  if (!(at instanceof HTMLElement) || at === document.body) return { number: null, fault: null };
  const name = `${at.localName} ${at.getAttribute('aria-label') ?? at.innerText}`.slice(0, 60);
  const number = at.dataset['control'] ?? null;
  // A card draws the outline of the button that names it.
  const holder = at.closest<HTMLElement>('.card, .row, .block') ?? at;
  const drawn = [at, holder].some((one) => {
    const { outlineStyle, outlineWidth } = getComputedStyle(one);
    return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
  });
  if (!drawn) return { number, fault: `no outline: ${name}` };
  const box = at.getBoundingClientRect();
  if (box.bottom <= 0 || box.top >= window.innerHeight) return { number, fault: `out of sight: ${name}` };
  // WCAG 2.2, 2.4.11: at least a part of it must be seen.
  const across = [0.1, 0.5, 0.9].map((share) => box.left + box.width * share);
  const down = [0.1, 0.5, 0.9].map((share) => box.top + box.height * share);
  const root = at.getRootNode() as Document | ShadowRoot;
  const seen = across.some((x) =>
    down.some((y) => {
      const top = root.elementFromPoint(x, y);
      return top !== null && (at.contains(top) || top.contains(at));
    }),
  );
  return { number, fault: seen ? null : `covered: ${name}` };
}
