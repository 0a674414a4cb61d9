import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { appendFile, readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { bundled } from './bundled.js';
import { eventsIn, itemsOf, opened, problemsIn } from './open.js';
import { seeded } from './seeded.js';
import { temporaryFolder } from './temporary-folder.js';

const SEED = 3_911;
/** So many processes at a time, one after the other in a folder of their own. */
const LANES = 10;
const KILLS_EACH = 20;
const LAST_SECOND_MS = 1_000;

interface Killed {
  readonly appended: readonly { readonly number: number; readonly atMs: number }[];
  readonly synced: number;
  readonly slowestMs: number;
}

describe('kill -9 of the writing process', () => {
  it(
    `loses no synced line and at most the last second (${LANES * KILLS_EACH} kills, seed ${SEED})`,
    { timeout: 180_000 },
    async () => {
      const script = await bundled('write-until-killed.ts');
      const lanes = Array.from({ length: LANES }, async (_, lane) => {
        const random = seeded(SEED + lane);
        const folder = await temporaryFolder();
        let synced = 0;
        let worstMs = 0;
        for (let session = 1; session <= KILLS_EACH; session += 1) {
          const killed = await writeAndKill(script, folder, 1_700 * random());
          synced += killed.synced;
          worstMs = Math.max(worstMs, await lostMs(join(folder, fileName(session)), killed));
        }
        return { synced, worstMs, files: await readdir(folder) };
      });
      const found = await Promise.all(lanes);
      expect(found.map(({ files }) => files.length)).toEqual(found.map(() => KILLS_EACH));
      expect(found.reduce((sum, { synced }) => sum + synced, 0)).toBeGreaterThan(1000);
      expect(Math.max(...found.map(({ worstMs }) => worstMs))).toBeLessThanOrEqual(LAST_SECOND_MS);
    },
  );

  it('leaves the killed file as it is when the next session begins', async () => {
    const folder = await temporaryFolder();
    await writeAndKill(await bundled('write-until-killed.ts'), folder, 900);
    const killedFile = join(folder, fileName(1));
    await appendFile(killedFile, '[123,0,4.'); // what a power cut leaves of a line
    const before = await readFile(killedFile);
    const { recording } = await opened(folder);
    await recording.close(0);
    expect((await readdir(folder)).sort()).toEqual([fileName(2), fileName(1)].sort());
    expect(await readFile(killedFile)).toEqual(before);
    expect(problemsIn(await itemsOf(killedFile))).toEqual(['torn', 'not-closed']);
  });
});

/** Checks what is left of a session, and says how much of its end is missing beyond what a slow disk took. */
async function lostMs(file: string, { appended, synced, slowestMs }: Killed): Promise<number> {
  const items = await itemsOf(file);
  const events = eventsIn(items);
  const values = events.map((event) => (event.kind === 'reading' ? event.value : null));
  expect(values).toEqual(Array.from({ length: values.length }, (_, i) => i + 1));
  expect(values.length).toBeGreaterThanOrEqual(synced);
  expect(problemsIn(items).at(-1)).toBe('not-closed');
  // A disk that is slow under other load isn't ours to answer for.
  return (appended.at(-1)?.atMs ?? 0) - (events.at(-1)?.atMs ?? 0) - slowestMs;
}

async function writeAndKill(script: string, folder: string, afterMs: number): Promise<Killed> {
  const child = spawn(process.execPath, [script, folder], { stdio: ['ignore', 'pipe', 'inherit'] });
  let printed = '';
  let timer: NodeJS.Timeout | undefined;
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    printed += text;
    timer ??= setTimeout(() => child.kill('SIGKILL'), afterMs);
  });
  await once(child, 'close');
  const lines = printed.split('\n').map((line) => line.split(' '));
  const appended = lines
    .filter(([word, , atMs]) => word === 'appended' && atMs !== undefined)
    .map(([, number, atMs]) => ({ number: Number(number), atMs: Number(atMs) }));
  const newest = (wanted: string): number => Number(lines.findLast(([word]) => word === wanted)?.[1] ?? 0);
  return { appended, synced: newest('synced'), slowestMs: newest('slowest') };
}

function fileName(session: number): string {
  return `2026-11-25-0839-signal-cabin${session === 1 ? '' : `-${session}`}.ndjson`;
}
