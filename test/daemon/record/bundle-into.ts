import { join, resolve } from 'node:path';
import { build } from 'vite';

/** Makes one file of plain JavaScript in `folder` from a script in `children/`; the working folder is the root. */
export async function bundleInto(folder: string, script: string): Promise<string> {
  await build({
    configFile: false,
    logLevel: 'silent',
    ssr: { noExternal: true },
    build: {
      ssr: resolve('test/daemon/record/children', script),
      outDir: folder,
      emptyOutDir: false,
      rollupOptions: { output: { entryFileNames: '[name].mjs' } },
    },
  });
  return join(folder, script.replace(/ts$/, 'mjs'));
}
