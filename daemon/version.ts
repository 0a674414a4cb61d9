import { readFileSync } from 'node:fs';

/** The package's folder: above `daemon/` in the sources, above `dist/daemon/` when built. */
export const PACKAGE_FOLDER = packageFolder();

/** The package's version, as package.json has it. */
export const VERSION = readVersion();

function packageFolder(): URL {
  const above = new URL('../', import.meta.url);
  return above.pathname.endsWith('/dist/') ? new URL('../', above) : above;
}

function readVersion(): string {
  const manifest: unknown = JSON.parse(readFileSync(new URL('package.json', PACKAGE_FOLDER), 'utf8'));
  return typeof manifest === 'object' && manifest !== null && 'version' in manifest
    ? String(manifest.version)
    : '?';
}
