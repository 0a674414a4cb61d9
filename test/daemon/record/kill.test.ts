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
const KILLS = 12;
const LAST_SECOND_MS = 1_000;

interface Killed {
  readonly appended: readonly { readonly number: number; readonly atMs: number }[];
  readonly synced: number;
  readonly slowestMs: number;
}

describe('kill -9 of the writing process', () => {
  it(
    `loses no synced line and at most the last second (${KILLS} kills, seed ${SEED})`,
    { timeout: 120_000 },
    async () => {
      const folder = await temporaryFolder();
      const script = await bundled('write-until-killed.ts');
      let worstMs = 0;
      let synced = 0;
      const random = seeded(SEED);
      for (let kill = 1; kill <= KILLS; kill += 1) {
        const killed = await writeAndKill(script, folder, 300 + 1_700 * random());
        const items = await itemsOf(join(folder, fileName(kill)));
        const values = eventsIn(items).map((event) => (event.kind === 'reading' ? event.value : null));
        expect(values).toEqual(Array.from({ length: values.length }, (_, i) => i + 1));
        expect(values.length).toBeGreaterThanOrEqual(killed.synced);
        expect(problemsIn(items).at(-1)).toBe('not-closed');
        synced += killed.synced;
        const keptUntilMs = eventsIn(items).at(-1)?.atMs ?? 0;
        const lostMs = (killed.appended.at(-1)?.atMs ?? 0) - keptUntilMs;
        // A disk that is slow under other load isn't ours to answer for.
        worstMs = Math.max(worstMs, lostMs - killed.slowestMs);
      }
      expect(synced).toBeGreaterThan(100);
      expect(worstMs).toBeLessThanOrEqual(LAST_SECOND_MS);
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
