import { chmod } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import { temporaryFolder } from './temporary-folder.js';

/** One file of plain JavaScript from a script in `children/`, for a process of its own; gone after the test. */
export async function bundled(script: string): Promise<string> {
  const folder = await temporaryFolder();
  await chmod(folder, 0o755);
  await build({
    configFile: false,
    logLevel: 'silent',
    build: {
      ssr: fileURLToPath(new URL(`children/${script}`, import.meta.url)),
      outDir: folder,
      rollupOptions: { output: { entryFileNames: 'child.mjs' } },
    },
  });
  return join(folder, 'child.mjs');
}
