import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { PageMessage, StepMessage } from '../../daemon/serve/messages.js';
import { procedureView } from '../../daemon/serve/procedure-view.js';
import { stepWanted } from '../../daemon/step-event.js';
import { Walk, WELL } from '../daemon/watch/procedure/walk.js';
import { COLD, FAILED, OVERRIDDEN, UNBEGUN, WALK_SCENES, walkAt, walking } from './cabin-walk.js';
import { startFakeDaemon, type FakeDaemon } from './fake-daemon.js';
import { giveVoice, heard } from './fake-voice.js';
import { pageTests, type PageAt } from './page-tests.js';
import { calm, demo, unprobed } from './signal-cabin.js';

let daemon: FakeDaemon;
const tests = pageTests(async (page) => (daemon = await startFakeDaemon(page, calm())));

async function open(wishes?: PageAt): Promise<Page> {
  const page = await tests.open({ at: '#/walk', ...wishes });
  await page.locator('rm-walk-view h2').first().waitFor();
  return page;
}

/** What the keyboard's place is at, by its text or its tag, through every shadow root. */
function focused(page: Page): Promise<string> {
  return page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    return (at instanceof HTMLElement && at.innerText.trim()) || (at?.tagName ?? '');
  });
}

/** The core behind the page: what a page asks for is done to a walk, and the page is told what became of it. */
function walkBehind(): Walk {
  const walk = new Walk().off();
  daemon.snapshot = { ...calm(), procedure: procedureView(walk.state) };
  daemon.onMessage = (message: PageMessage) => {
    if (message.kind !== 'step') return;
    const { event, why } = stepWanted(message, walk.state);
    if (event === null) return daemon.refuse(why);
    walk.act(event.step, event);
    tell(walk);
  };
  return walk;
}

function tell(walk: Walk): void {
  const procedure = procedureView(walk.state);
  if (procedure !== null) daemon.sendChanges({ procedure });
}

const steps = (): readonly StepMessage[] =>
  daemon.commands.filter((message): message is StepMessage => message.kind === 'step');

describe('a walk by keyboard alone', () => {
  it('goes from the first check to the signature', async () => {
    const walk = walkBehind();
    const page = await open();
    await page.keyboard.press('n');
    await expect.poll(() => focused(page)).toBe('cold-checks');
    // `f` goes to the field that is asked for; from there on an answer leads to the next question.
    await page.keyboard.press('f');
    await page.keyboard.type('0.12');
    await page.keyboard.press('Enter');
    await page.getByText('0.12 Ω, inside').waitFor();
    await page.keyboard.type('OL');
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('Yes');
    await page.keyboard.press('y');
    await expect.poll(() => focused(page)).toMatch(/^Go on: rails/);
    await page.keyboard.press('n');
    await expect.poll(() => focused(page)).toBe('rails');
    walk.off().stand(6000, { ...WELL, logic: 5.35 });
    tell(walk);
    await page.getByText('Failed: the walk stops here').waitFor();
    // Not silently on: the key leads to what is in the way.
    await page.keyboard.press('n');
    await expect.poll(() => focused(page)).toMatch(/is not done/);
    await page.keyboard.press('o');
    await page.keyboard.type('42');
    await page.keyboard.press('Enter');
    await page.getByText('It wants 3 letters at least.').waitFor();
    await page.keyboard.type(' says the meter’s label');
    await page.keyboard.press('Enter');
    await page.getByText('Overridden: “42 says the meter’s label”').waitFor();
    await page.keyboard.press('n');
    await expect.poll(() => focused(page)).toBe('soak');
    await page.keyboard.press('o');
    await page.keyboard.type('soaked yesterday');
    await page.keyboard.press('Enter');
    await page.getByText('Overridden: “soaked yesterday”').waitFor();
    await page.keyboard.press('n');
    await expect.poll(() => focused(page)).toBe('real-load-logic');
    walk.off().stand(6000, WELL);
    tell(walk);
    await page.locator('rm-walk-step').getByText('all inside').waitFor();
    await page.keyboard.press('n');
    await expect.poll(() => focused(page)).toBe('sign-off');
    await page.keyboard.press('n');
    await page.keyboard.type('Ada');
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('Signed off by Ada');
    expect(await page.locator('rm-walk-view section li').allInnerTexts()).toEqual([
      'rails: “42 says the meter’s label”',
      'soak: “soaked yesterday”',
    ]);
    expect(walk.state.procedure?.signedBy).toBe('Ada');
  });

  it('goes one step back, and breaks off with the words for switching off', async () => {
    const walk = walkBehind();
    walk.act('cold-checks', { action: 'begin' }).answerAll().act('rails', { action: 'begin' });
    daemon.snapshot = { ...calm(), procedure: procedureView(walk.state) };
    const page = await open();
    await page.getByRole('heading', { name: 'rails', exact: true }).waitFor();
    await page.keyboard.press('u');
    await expect.poll(() => focused(page)).toBe('cold-checks');
    await page.keyboard.press('x');
    await page.locator('.reason').getByText('Switch off.').waitFor();
    await page.keyboard.press('Escape');
    await expect.poll(() => focused(page)).toMatch(/^Break off/);
    await page.keyboard.press('x');
    await page.keyboard.press('Enter');
    await expect.poll(() => focused(page)).toBe('Broken off');
    expect(walk.state.procedure?.ended).toBe('aborted');
  });

  it('single keys that are turned off do nothing', async () => {
    walkBehind();
    const page = await open();
    await page.keyboard.press('?');
    await page.getByText('one step back').waitFor();
    await page.getByRole('checkbox', { name: /Single keys/ }).uncheck();
    await page.keyboard.press('Escape');
    await page.keyboard.press('n');
    await page.getByRole('button', { name: 'Begin: cold-checks' }).waitFor();
    expect(steps()).toEqual([]);
  });
});

describe('a step', () => {
  it('says in words what must not be connected yet, in red, and by a sign', async () => {
    daemon.snapshot = walking(COLD);
    const page = await open();
    const box = page.locator('.not-yet');
    expect(await box.innerText()).toMatch(/Do not connect yet\s+The mains\s+Every module/);
    expect(await box.locator('svg').count()).toBe(1);
    const [red = 0, green = 0, blue = 0] = (
      await box.evaluate((element) => getComputedStyle(element).color.match(/\d+/g) ?? [])
    ).map(Number);
    expect(red).toBeGreaterThan(3 * Math.max(green, blue));
  });

  it('has its caution beside what the hand does', async () => {
    daemon.snapshot = walking(walkAt('dummy-load'));
    const page = await open();
    const action = page.locator('.actions li', { hasText: 'Put dummy loads on' });
    expect(await action.innerText()).toMatch(/Caution\. They get far too hot to touch/);
  });

  it('holds what reads now against what should be read in this state', async () => {
    daemon.snapshot = walking(walkAt('rails'));
    const page = await open();
    const wanted = walkAt('rails').steps[4]?.points.find(({ point }) => point === 'reservoir.volts');
    const point = page.locator('rm-walk-point', { hasText: 'Reservoir' });
    const band = `in this state ${wanted?.low.toFixed(2)} to ${wanted?.high.toFixed(2)}`;
    await point.getByText(band).waitFor();
    await point.getByText('18.62').waitFor();
    await point.locator('svg.scale').waitFor();
    daemon.sendChanges({ readings: [['reservoir.volts', 755_000, 18.91]] });
    await point.getByText('18.91').waitFor();
  });

  it('takes what a person’s own meter shows, its probe moved there first', async () => {
    daemon.snapshot = {
      ...walking(walkAt('rails'), unprobed()),
      typing: [{ point: 'logic.volts', instrument: 'meter', channel: 'a', there: false }],
    };
    const page = await open();
    await page.getByLabel('Your meter shows').fill('5.02');
    await page.keyboard.press('Enter');
    await expect
      .poll(() => daemon.commands)
      .toEqual([
        { kind: 'probe', instrument: 'meter', channel: 'a', point: 'logic.volts' },
        { kind: 'typed', instrument: 'meter', channel: 'a', text: '5.02' },
      ]);
  });

  it('that failed says what is wrong and where to look, and doesn’t go on', async () => {
    daemon.snapshot = walking(FAILED);
    const page = await open();
    const failed = page.getByRole('region', { name: 'Failed' });
    expect(await failed.innerText()).toMatch(/5\.42\sV where[^]*Where to look[^]*its minimum load/);
    await page.getByRole('button', { name: 'Go on: Dummy load' }).click({ force: true });
    await expect.poll(() => focused(page)).toMatch(/is not done/);
    expect(steps()).toEqual([]);
  });

  it('a check that is wrong says what to mend, and that nothing overrides it where it can kill', async () => {
    const checks = COLD.steps[0]!.checks.map((check) =>
      check.id === 'earth' ? { ...check, answer: '14 Ω', inside: false } : check,
    );
    daemon.snapshot = walking(walkAt('cold-checks', { status: 'failed', checks }));
    const page = await open();
    const earth = page.locator('#check-earth');
    for (const words of ['14 Ω, outside', 'Mend the earth', 'can kill']) {
      await earth.getByText(words).first().waitFor();
    }
    await earth.getByRole('button', { name: 'Nothing to check: no metal' }).click();
    await expect
      .poll(steps)
      .toEqual([{ kind: 'step', step: 'cold-checks', action: 'answer', check: 'earth', text: '-' }]);
  });
});

describe('what is heard', () => {
  it('a new step and a failure reach screen readers on another view too', async () => {
    daemon.snapshot = walking(walkAt('raw'));
    const page = await open();
    await page.keyboard.press('b');
    await page.locator('rm-bench-view').waitFor();
    daemon.sendChanges({ procedure: walkAt('rails') });
    await page
      .locator('rm-walk-voice [role=status]', { hasText: 'Step 5 of 11: Rails without load' })
      .waitFor({ state: 'attached' });
    daemon.sendChanges({ procedure: FAILED });
    await page
      .locator('rm-walk-voice [role=alert]', { hasText: 'Failed. Logic rail: 5.42' })
      .waitFor({ state: 'attached' });
  });

  it('is spoken where the voice is on', async () => {
    daemon.snapshot = walking(walkAt('rails'));
    const page = await open();
    await giveVoice(page, { voice: 'on' });
    daemon.sendChanges({ procedure: OVERRIDDEN });
    await expect.poll(async () => (await heard(page))[0]).toMatch(/^Overridden/);
  });
});

describe('a page that isn’t live', () => {
  it('takes nothing, strikes values out, and doesn’t say where the step stands', async () => {
    daemon.snapshot = walking(walkAt('rails', { status: 'ready' }));
    const page = await open();
    daemon.goAway();
    await page.getByText('not live: it may stand elsewhere').waitFor();
    const buttons = page.locator('rm-walk-step button');
    for (const button of await buttons.all()) expect(await button.isDisabled()).toBe(true);
    expect(await page.locator('rm-walk-point .old').count()).toBe(3);
    await page.keyboard.press('n');
    expect(steps()).toEqual([]);
  });
});

// 320 px is what WCAG 2.2, 1.4.10 (reflow) asks for.
it.each(Object.keys(WALK_SCENES))('%s: nothing goes off the edge', async (name) => {
  daemon.snapshot = WALK_SCENES[name]!;
  const page = await open();
  if (name === 'failed step') await page.keyboard.press('o');
  for (const width of [320, 360, 2560]) {
    await page.setViewportSize({ width, height: 800 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  }
});

it('a finger: no button or field of the walk smaller than 24 px (WCAG 2.2, 2.5.8)', async () => {
  daemon.snapshot = walking(COLD);
  const page = await open({ width: 360 });
  for (const control of await page.locator('rm-walk-view button:visible, rm-walk-view input:visible').all()) {
    const box = await control.boundingBox();
    expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(24);
  }
});

it('a session without a power-up says how to begin one', async () => {
  const page = await open();
  await page.getByText('npx railminder powerup').waitFor();
});

it('a demo that is too hot to begin says what is in the way, and how it goes away', async () => {
  const whyNotNext = 'Not while this alarm stands: Logic regulator case is at 108.6 °C.';
  daemon.snapshot = { ...demo('heatsink-missing'), procedure: { ...UNBEGUN, whyNotNext } };
  const page = await open();
  await page.getByText('Not while this alarm stands').waitFor();
  await page.getByText('let it cool').waitFor();
  expect(await page.getByRole('button', { name: 'Begin: Cold checks' }).isDisabled()).toBe(true);
});
