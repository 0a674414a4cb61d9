import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import type { FakeDaemon } from './fake-daemon.js';
import { startFullDaemon } from './full-daemon.js';
import { pageTests } from './page-tests.js';
import { showView } from './show-view.js';
import { calm, HOT_CASE, LOST_METER, LOW_LOGIC, troubled } from './signal-cabin.js';

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFullDaemon(page, troubled())));

/** The innermost element that has the keyboard's place, with its words. */
function place(page: Page): Promise<string> {
  return page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return `${at?.localName ?? ''} ${at?.localName === 'body' ? '' : (at?.textContent ?? '').trim()}`;
  });
}

/** Buttons that go away when they are pressed, or can't be pressed any more, and where the keyboard is afterwards. */
const GOING: readonly (readonly [what: string, view: string, button: RegExp, after: RegExp])[] = [
  ['an alarm is acknowledged', 'bench', /^Acknowledge: Logic reg/, /^h2 2 alarms/],
  ['an alarm is put aside', 'bench', /^Put aside for 10 min: Logic reg/, /^h2 2 alarms/],
  ['the first words are read', 'bench', /^Got it/, /^div/],
  ['a change of the design is taken back', 'design', /^Undo/, /^h2 The design/],
];

it.each(GOING)('when %s the keyboard stays there', async (what, view, button, after) => {
  daemon.onMessage = (message) => {
    if (message.kind === 'acknowledge') daemon.sendChanges({ alarms: [{ ...HOT_CASE, state: 'normal' }] });
    if (message.kind === 'shelve') daemon.sendChanges({ alarms: [{ ...HOT_CASE, state: 'shelved' }] });
  };
  const page = await tests.open({ at: `#/${view}` });
  await showView(page, view);
  if (view === 'design') {
    await page.getByLabel('Mains volts').fill('231');
    await page.getByRole('button', { name: 'Undo', disabled: false }).waitFor();
  }
  await page.getByRole('button', { name: button }).focus();
  await page.keyboard.press('Enter');
  // In a session something is told every second.
  await expect.poll(() => (daemon.sendChanges({}), place(page)), { message: what }).toMatch(after);
});

it('a part that is closed leaves the keyboard at the supply', async () => {
  const page = await tests.open();
  await page.getByRole('button', { name: 'Logic rail' }).press('Enter');
  await page.getByRole('button', { name: 'Close logic rail' }).press('Enter');
  await expect.poll(() => place(page)).toBe('h2 From mains to load');
});

it('whoever presses with a mouse is led nowhere', async () => {
  daemon.snapshot = { ...calm(), alarms: [HOT_CASE, LOW_LOGIC, LOST_METER] };
  daemon.onMessage = (message) => {
    if (message.kind === 'acknowledge') daemon.sendChanges({ alarms: [{ ...HOT_CASE, state: 'normal' }] });
  };
  const page = await tests.open();
  await page.getByRole('button', { name: /^Acknowledge: Logic reg/ }).click();
  await page.getByRole('heading', { name: '2 alarms' }).waitFor();
  await page.keyboard.up('Shift');
  expect(await place(page)).toBe('body ');
});
