import type { Page } from 'playwright-core';
import { beforeEach, describe, expect, it } from 'vitest';
import { startServer } from '../../daemon/serve/server.js';
import { VIEWS } from '../../web/views/registry.js';
import { cabin, caseTemperature, volts, type Cabin } from '../daemon/serve/cabin.js';
import { pageTests, type PageServer } from './page-tests.js';

const PHONE = { width: 360, height: 740 };

let session: Cabin;
const tests = pageTests(async (page): Promise<PageServer> => {
  session = acknowledging();
  const beating = setInterval(() => session.clock.advance(100), 100);
  const server = await startServer({ port: 0, pageFolder: page, hub: session.hub, wall: session.clock });
  return {
    address: server.address,
    async stop() {
      clearInterval(beating);
      await server.close();
    },
  };
});

/** The daemon's own hub and core, at which an acknowledgement is taken. */
function acknowledging(): Cabin {
  const made = cabin({
    onCommand(command) {
      if (command.kind === 'acknowledge') {
        made.tell({ kind: 'acknowledge', atMs: made.state().nowMs + 1, alarm: command.alarm });
      }
      return null;
    },
  });
  return made;
}

/** So many readings, half a second apart. */
function read(value: number, count: number, temperature = 52): void {
  for (let i = 0; i < count; i += 1) {
    const atMs = session.state().nowMs + 500;
    session.tell(volts(atMs, value));
    session.tell(caseTemperature(atMs, temperature));
  }
}

beforeEach(() => read(5, 4));

const alarms = (page: Page) => page.locator('rm-alarms');

/** What a bench says, part by part. */
function shown(page: Page): Promise<string[]> {
  return page
    .locator('rm-glance .sentence, rm-alarms li, rm-charts figcaption, rm-charts .foot, rm-instruments li')
    .allInnerTexts();
}

describe('two pages and a phone', () => {
  it('show the same, and what is acknowledged on one is on the others', async () => {
    const pages = [await tests.open(), await tests.open(), await tests.open(PHONE)];
    for (const page of pages) await page.getByText('No alarms').waitFor();
    read(5.9, 8);
    for (const page of pages) await alarms(page).getByText('over its limit').first().waitFor();
    await pages[2]!.getByRole('button', { name: /^Acknowledge: .*limit/ }).click();
    for (const page of pages) await alarms(page).getByText('acknowledged, still so').waitFor();
    const [first, ...others] = await Promise.all(pages.map(shown));
    for (const other of others) expect(other).toEqual(first);
  });
});

describe('a page that lost its socket', () => {
  it('knows on its return everything that happened meanwhile', async () => {
    const page = await tests.open();
    await page.getByText('No alarms').waitFor();
    let isCut = false;
    const cuts: (() => Promise<void>)[] = [];
    await page.routeWebSocket('**/live', (socket) => {
      if (isCut) return void socket.close();
      socket.connectToServer();
      cuts.push(() => socket.close());
    });
    await page.reload();
    await page.getByText('No alarms').waitFor();
    isCut = true;
    for (const cut of cuts) await cut();
    await page.getByText('Not live: nothing heard').waitFor();
    read(5.9, 8);
    read(5.01, 8, 53.4);
    isCut = false;
    await alarms(page).getByText('over its limit').first().waitFor();
    const fresh = await tests.open();
    await alarms(fresh).getByText('over its limit').first().waitFor();
    const words = await shown(fresh);
    expect(words.join()).toMatch(/over its limit.*53\.4/s);
    await expect.poll(() => shown(page)).toEqual(words);
  });
});

it('no view asks anything of another host, nor needs one', async () => {
  const page = await tests.open();
  const asked = new Set<string>();
  page.on('request', (request) => asked.add(new URL(request.url()).host));
  page.on('websocket', (socket) => asked.add(new URL(socket.url()).host));
  await page.reload();
  for (const { key, tag } of VIEWS) {
    await page.keyboard.press(key);
    await page.locator(tag).waitFor();
  }
  expect([...asked]).toEqual([new URL(page.url()).host]);
  // This server has neither designs nor recordings to answer about.
  tests.allowFailedRequests();
});
