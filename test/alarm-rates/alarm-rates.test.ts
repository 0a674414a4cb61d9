import { fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ShortRun, ShortRunResult } from './short-run.js';

const SHORT: ShortRun = { hours: 4, firstSeed: 600, minutes: { healthy: 3, faulty: 11 } };
const MOST_IN_TEN_MINUTES = 10;

let hours: ShortRunResult['hours'] = [];
let sessions: ShortRunResult['sessions'] = [];

/** As one plain file in a process of its own: a test runner's module wrappers make the hot loops half as fast. */
beforeAll(async () => {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-alarm-rates-'));
  try {
    await build({
      configFile: false,
      logLevel: 'silent',
      ssr: { noExternal: true },
      build: {
        ssr: 'test/alarm-rates/short-run.ts',
        outDir: folder,
        emptyOutDir: false,
        rollupOptions: { output: { entryFileNames: 'short-run.mjs' } },
      },
    });
    const child = fork(join(folder, 'short-run.mjs'));
    const ended = once(child, 'exit');
    child.once('message', (said) => ({ hours, sessions } = said as ShortRunResult));
    child.send(SHORT);
    expect(await ended).toEqual([0, null]);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}, 600_000);

describe('alarms over simulated hours (the whole of it: npm run alarm-rates)', () => {
  it(`ask for nobody more than once an hour in healthy running, none chattering (seeds 0 to ${SHORT.hours - 1})`, () => {
    expect(hours).toHaveLength(SHORT.hours);
    expect(hours.flatMap(({ asked }) => asked).length).toBeLessThanOrEqual(SHORT.hours);
    expect(hours.flatMap(({ chattering }) => chattering)).toEqual([]);
  });

  it(`name nine of ten faults first, at most ten in the ten minutes after it, none chattering (seeds ${SHORT.firstSeed} on)`, () => {
    expect(sessions.length).toBeGreaterThanOrEqual(15);
    expect(sessions.filter(({ first }) => first === null).map(({ fault }) => fault)).toEqual([]);
    const unnamed = sessions.filter(({ namesCause }) => !namesCause).map(({ fault }) => fault);
    expect(unnamed.length).toBeLessThanOrEqual(sessions.length / 10);
    for (const { inTenMinutes } of sessions) expect(inTenMinutes).toBeLessThanOrEqual(MOST_IN_TEN_MINUTES);
    expect(sessions.flatMap(({ chattering }) => chattering)).toEqual([]);
    expect(sessions.filter(({ oneFirstUp }) => !oneFirstUp).map(({ fault }) => fault)).toEqual([]);
  });
});
