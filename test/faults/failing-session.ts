import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { copyFile, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { onTestFinished } from 'vitest';
import { MAIN } from '../daemon/run-command.js';
import { FAILING_SYSTEM, type Failing } from './failing.js';

const DESIGN = fileURLToPath(
  new URL('../../daemon/design/examples/signal-cabin/signal-cabin.design.yaml', import.meta.url),
);

export interface Ended {
  readonly code: number | null;
  readonly said: string;
  readonly recordings: readonly string[];
}

/** The bench of a session, and what is to be said to it. */
export interface Table {
  readonly bench: string;
  readonly args?: readonly string[];
}

/**
 * A session by hand, or at a table, ended once `until` was said; what it reads, writes and starts goes through the
 * failing system.
 */
export async function failingSession(failing: Failing, until: RegExp, table?: Table): Promise<Ended> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-faults-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  await copyFile(DESIGN, join(folder, 'cabin.design.yaml'));
  if (table !== undefined) await writeFile(join(folder, 'cabin.bench.yaml'), table.bench);
  const bench = table === undefined ? [] : ['--bench', 'cabin.bench.yaml', ...(table.args ?? [])];
  const child = spawn(
    process.execPath,
    ['--import', FAILING_SYSTEM, MAIN, 'watch', 'cabin.design.yaml', '--port', '0', ...bench],
    { cwd: folder, env: { ...process.env, FAILING: JSON.stringify(failing) }, stdio: 'pipe' },
  );
  const exited = once(child, 'exit') as Promise<[number | null]>;
  let said = '';
  let isTold = false;
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (bytes: Buffer) => {
      said += bytes.toString('utf8');
      if (isTold || !until.test(said)) return;
      isTold = true;
      child.kill('SIGTERM');
    });
  }
  const [code] = await exited;
  const names = await readdir(join(folder, 'recordings')).catch(() => []);
  return {
    code,
    said,
    recordings: await Promise.all(names.map((name) => readFile(join(folder, 'recordings', name), 'utf8'))),
  };
}
