import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

/** Makes one file of plain JavaScript in `folder` from a script in `children/`, for a process of its own. */
export async function bundleInto(folder: string, script: string): Promise<string> {
  await build({
    configFile: false,
    logLevel: 'silent',
    ssr: { noExternal: true },
    build: {
      ssr: fileURLToPath(new URL(`children/${script}`, import.meta.url)),
      outDir: folder,
      emptyOutDir: false,
      rollupOptions: { output: { entryFileNames: 'child.mjs' } },
    },
  });
  return join(folder, 'child.mjs');
}
