import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { inject } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/**
 * The folder of the page as it's shipped, which the first file of a run that asks builds for all of them.
 * The build runs in a process of its own: the test runner's NODE_ENV would give the libraries' development forms.
 */
export async function buildPage(): Promise<string> {
  const folder = join(inject('pageFolder'), 'page');
  if (existsSync(folder)) return folder;
  const made = await mkdtemp(join(inject('pageFolder'), 'made-'));
  const vite = join(ROOT, 'node_modules/vite/bin/vite.js');
  const options = [
    '--config',
    'web/vite.config.ts',
    '--logLevel',
    'error',
    '--outDir',
    made,
    '--emptyOutDir',
  ];
  await promisify(execFile)(process.execPath, [vite, 'build', ...options], {
    cwd: ROOT,
    env: { ...process.env, NODE_ENV: 'production' },
  });
  await rename(made, folder).catch((error: unknown) => {
    // Two files may build at the same time; the second has the same page.
    if (!existsSync(folder)) throw error;
  });
  return folder;
}
