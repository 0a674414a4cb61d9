import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import { openPtyPair } from '../drivers/pty.js';
import { startChromium } from '../web/chromium.js';

export interface ScreenRow {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
}

const DESIGN = 'daemon/design/examples/signal-cabin/signal-cabin.design.yaml';
const LINES_A_SECOND = 100;
const CHANNELS_A_LINE = 4;
const SECONDS = 12;

const benchOn = (device: string): string => `bench: table
instruments:
  board:
    driver: text-lines
    link: { serial: ${device} }
    options:
      pattern: 'P {logic.volts} V {lamps.volts} V {logic.case} C {lamps.case} C'
      interval_ms: ${1000 / LINES_A_SECOND}
`;

/**
 * From a line on a pseudo-terminal, through the built program (`npm run build` first) and its recording on disk, to
 * the frame of the built page in which its value is painted. The value itself says which line it came with.
 */
export async function rows(): Promise<readonly ScreenRow[]> {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-screen-'));
  const pty = await openPtyPair(folder, 'board');
  const bench = join(folder, 'table.bench.yaml');
  writeFileSync(bench, benchOn(pty.devicePath));
  const program = spawn(process.execPath, [
    ...['dist/daemon/main.js', 'watch', resolve(DESIGN), '--bench', bench],
    ...['--port', '0', '--recordings', folder],
  ]);
  const browser = await startChromium();
  try {
    const page = await browser.newPage();
    await page.goto(await addressOf(program.stdout));
    await page.locator('rm-supply .block').first().waitFor();
    await page.evaluate(noteValues);
    const sentAt = await talk((line) => pty.write(line));
    await wait(500);
    const delays = await delaysOf(page, sentAt);
    const cpu = await cpuOf(program.pid ?? 0);
    return [
      { name: 'readings a second', value: LINES_A_SECOND * CHANNELS_A_LINE, unit: '1/s' },
      { name: 'values seen', value: delays.length, unit: '' },
      { name: 'wire to screen, median', value: quantile(delays, 0.5), unit: 'ms' },
      { name: 'wire to screen, p99', value: quantile(delays, 0.99), unit: 'ms' },
      { name: 'the program, start included', value: cpu, unit: 's of a core' },
    ];
  } finally {
    await browser.close();
    program.kill();
    await pty.unplug();
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The address that the program prints for its page. */
function addressOf(output: NodeJS.ReadableStream): Promise<string> {
  return new Promise((found) => {
    let text = '';
    output.on('data', (bytes: Buffer) => {
      text += bytes.toString();
      const [address] = /http:\/\/\S+/.exec(text) ?? [];
      if (address !== undefined) found(address);
    });
  });
}

/** Every value comes back after this many lines: later than any delay that is measured. */
const VALUES = 40;
const valueOf = (line: number): string => (4.8 + (line % VALUES) / 100).toFixed(2);

/** Says the lines, each at its time; returns when each of them was sent. */
async function talk(say: (line: string) => Promise<void>): Promise<readonly number[]> {
  const sentAt: number[] = [];
  const startMs = Date.now();
  while (sentAt.length < SECONDS * LINES_A_SECOND) {
    const dueMs = startMs + (1000 / LINES_A_SECOND) * sentAt.length;
    if (dueMs > Date.now()) await wait(dueMs - Date.now());
    const line = `P ${valueOf(sentAt.length)} V 12.05 V 51.2 C 48.7 C\r\n`;
    sentAt.push(Date.now());
    void say(line);
  }
  return sentAt;
}

/** Runs in the page: when each value of the logic rail was painted, in wall time. */
function noteValues(): void {
  const bench = document.querySelector('rm-app')?.shadowRoot?.querySelector('rm-bench-view');
  const map = bench?.shadowRoot?.querySelector('rm-supply')?.shadowRoot;
  const paintedAt: [string, number][] = [];
  Object.assign(window, { paintedAt });
  const painted = new MessageChannel();
  let shown = '';
  painted.port1.onmessage = () => {
    const value =
      /\d+\.\d+/.exec(map?.querySelector('[data-part=logic] .value')?.textContent ?? '')?.[0] ?? '';
    if (value !== shown) paintedAt.push([value, Date.now()]);
    shown = value;
  };
  const look = (): void => {
    // A message posted within a frame comes after its painting.
    painted.port2.postMessage(null);
    requestAnimationFrame(look);
  };
  look();
}

async function delaysOf(page: Page, sentAt: readonly number[]): Promise<number[]> {
  const painted = await page.evaluate(
    () => (window as unknown as { paintedAt: [string, number][] }).paintedAt,
  );
  return painted.slice(VALUES).flatMap(([value, atMs]) => {
    const line = sentAt.findLastIndex((sentMs, i) => sentMs <= atMs && valueOf(i) === value);
    return line < 0 ? [] : [atMs - (sentAt[line] ?? NaN)];
  });
}

/** What a process has used so far. Linux only. */
async function cpuOf(pid: number): Promise<number> {
  const fields = (await readFile(`/proc/${pid}/stat`, 'utf8')).split(') ')[1]?.split(' ') ?? [];
  return (Number(fields[11]) + Number(fields[12])) / 100;
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? NaN;
}
