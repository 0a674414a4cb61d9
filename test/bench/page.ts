import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Browser, CDPSession, Page } from 'playwright-core';
import type { SnapshotMessage } from '../../daemon/serve/messages.js';
import { startChromium } from '../web/chromium.js';
import { FakeDaemon } from '../web/fake-daemon.js';
import { calm, NOW_MS, POINTS } from '../web/signal-cabin.js';

export interface PageRow {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}

const SERIES = 8;
const READINGS = 36_000;
const FRAMES = 300;
const SLOW_MS = 17;
const DEMO_HOURS = 20;

/** Drawing while the time axis moves, the first useful picture, and the heap. */
export async function rows(): Promise<readonly PageRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-bench-'));
  spawnSync(
    process.execPath,
    [
      'node_modules/vite/bin/vite.js',
      'build',
      '--config',
      'web/vite.config.ts',
      '--outDir',
      folder,
      '--emptyOutDir',
    ],
    { env: { ...process.env, NODE_ENV: 'production' } },
  );
  const browser = await startChromium();
  const daemon = new FakeDaemon(folder, eightHours());
  try {
    const address = await daemon.start();
    return [...(await drawing(browser, address)), ...(await openingAndHeap(browser, daemon, address))];
  } finally {
    await browser.close();
    await daemon.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Eight temperatures, an hour of each at ten readings a second. */
function eightHours(): SnapshotMessage {
  const scene = calm();
  const one = POINTS.find(({ id }) => id === 'logic.case')!;
  const points = Array.from({ length: SERIES }, (_, i) => ({
    ...one,
    id: `rail${i}.case`,
    label: `rail ${i} case`,
  }));
  const nowMs = READINGS * 100;
  const atMs = Array.from({ length: READINGS }, (_, i) => i * 100);
  const history = points.map(({ id }, series) => {
    const value = atMs.map((at) => 50 + 3 * Math.sin(at / 40_000 + series) + Math.sin(at * (series + 1)));
    return [id, { atMs, value }] as const;
  });
  return {
    ...scene,
    session: { ...scene.session, nowMs },
    points: [...scene.points.filter(({ unit }) => unit !== 'degC'), ...points],
    history: Object.fromEntries(history),
  };
}

async function drawing(browser: Browser, address: string): Promise<PageRow[]> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 2400 } });
  await page.goto('about:blank');
  const empty = await page.evaluate(framesWhile, { frames: FRAMES, moves: false });
  await page.goto(address);
  await page
    .locator('rm-plot canvas')
    .nth(SERIES - 1)
    .waitFor();
  await page.keyboard.press('0');
  const idle = await page.evaluate(framesWhile, { frames: FRAMES, moves: false });
  const moved = await page.evaluate(framesWhile, { frames: FRAMES, moves: true });
  await page.close();
  return [
    { name: 'frames over 17 ms, empty page', value: shareSlow(empty), unit: 'share' },
    { name: 'frames over 17 ms, 8 charts standing', value: shareSlow(idle), unit: 'share' },
    { name: 'frames over 17 ms, 8 x 36,000 panned and zoomed', value: shareSlow(moved), unit: 'share' },
    { name: 'median frame, empty page', value: quantile(empty, 0.5), unit: 'ms' },
    { name: 'median frame, 8 x 36,000 panned and zoomed', value: quantile(moved, 0.5), unit: 'ms' },
    { name: 'p99 frame, 8 x 36,000 panned and zoomed', value: quantile(moved, 0.99), unit: 'ms' },
  ];
}

/** Runs in the page: the times between frames, while the wheel pans or zooms the first chart before each of them. */
async function framesWhile({ frames, moves }: { frames: number; moves: boolean }): Promise<number[]> {
  const inside = (root: ParentNode, ...path: string[]): Element | null =>
    path.reduce<Element | null>((at, selector) => (at?.shadowRoot ?? root).querySelector(selector), null);
  const frame = inside(document, 'rm-app', 'rm-bench-view', 'rm-charts', 'rm-plot', '.frame');
  const times: number[] = [];
  for (let i = 0; i <= frames; i += 1) {
    times.push(await new Promise<number>((resolve) => requestAnimationFrame(resolve)));
    if (!moves || frame === null) continue;
    const back = Math.floor(i / 20) % 2 === 0 ? 1 : -1;
    const zooms = Math.floor(i / 40) % 2 === 0;
    const wheel = zooms ? { ctrlKey: true, deltaY: -40 * back } : { deltaX: -30 * back };
    const { left, width, top } = frame.getBoundingClientRect();
    const at = { clientX: left + 0.6 * width, clientY: top + 40, bubbles: true, cancelable: true };
    frame.dispatchEvent(new WheelEvent('wheel', { ...wheel, ...at }));
  }
  return times.slice(1).map((at, i) => at - times[i]!);
}

async function openingAndHeap(browser: Browser, daemon: FakeDaemon, address: string): Promise<PageRow[]> {
  daemon.snapshot = calm();
  const page = await browser.newPage();
  await page.addInitScript(noteFirstPicture);
  await page.goto(address);
  await page.locator('rm-supply .block').first().waitFor();
  const first = await page.evaluate(() => (window as unknown as { firstPicture: number }).firstPicture);
  const heap = await heapOverTime(page, daemon);
  await page.close();
  return [{ name: 'navigation to first useful picture', value: first, unit: 'ms' }, ...heap];
}

function sendBatch(daemon: FakeDaemon, second: number): void {
  const nowMs = NOW_MS + 1000 * second;
  const readings = POINTS.map(
    ({ id, typical }, place) => [id, nowMs + place, typical * (1 + 0.002 * Math.sin(second / 7))] as const,
  );
  daemon.sendChanges({ nowMs: nowMs + POINTS.length, readings });
}

/** Runs in the page before it: when the first block of the supply has been painted. */
function noteFirstPicture(): void {
  const look = (): void => {
    const bench = document.querySelector('rm-app')?.shadowRoot?.querySelector('rm-bench-view');
    const block = bench?.shadowRoot?.querySelector('rm-supply')?.shadowRoot?.querySelector('.block');
    if (!block) return void requestAnimationFrame(look);
    requestAnimationFrame(() => Object.assign(window, { firstPicture: performance.now() }));
  };
  requestAnimationFrame(look);
}

/** What an hour of the demo at twenty times its pace brings: twenty hours, a reading of each point a second. */
async function heapOverTime(page: Page, daemon: FakeDaemon): Promise<PageRow[]> {
  const session = await page.context().newCDPSession(page);
  const rows: PageRow[] = [];
  for (let second = 1; second <= DEMO_HOURS * 3600; second += 1) {
    sendBatch(daemon, second);
    if (second % 20 === 0) await wait(5);
    if (second % (5 * 3600) !== 0) continue;
    rows.push({
      name: `heap after ${second / 3600} h of session`,
      value: await heapMegabytes(session),
      unit: 'MB',
    });
  }
  return rows;
}

async function heapMegabytes(session: CDPSession): Promise<number> {
  await session.send('HeapProfiler.collectGarbage');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  return usedSize / 1e6;
}

function shareSlow(times: readonly number[]): number {
  return times.filter((ms) => ms > SLOW_MS).length / times.length;
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
}
