import { execFile } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** The page as it's shipped, built into a folder of its own. */
export interface BuiltPage {
  readonly folder: string;
  remove(): Promise<void>;
}

/** Builds in a process of its own: the test runner's NODE_ENV would give the libraries' development forms. */
export async function buildPage(): Promise<BuiltPage> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-page-'));
  const vite = join(ROOT, 'node_modules/vite/bin/vite.js');
  const options = [
    '--config',
    'web/vite.config.ts',
    '--logLevel',
    'error',
    '--outDir',
    folder,
    '--emptyOutDir',
  ];
  await promisify(execFile)(process.execPath, [vite, 'build', ...options], {
    cwd: ROOT,
    env: { ...process.env, NODE_ENV: 'production' },
  });
  return { folder, remove: () => rm(folder, { recursive: true }) };
}
