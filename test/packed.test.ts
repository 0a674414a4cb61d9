import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

interface Lock {
  readonly packages: Readonly<
    Record<string, { readonly dev?: true; readonly hasInstallScript?: true; readonly resolved?: string }>
  >;
}

/** What runs and what describes the files that people write. */
const PACKED =
  /^(?:dist\/|daemon\/design\/(?:examples\/|\w+\.schema\.json$)|daemon\/predict\/README\.md$|daemon\/board\/railminder\.service$|recordings\/(?:README\.md|versions\.md|recording\.schema\.json)$|package\.json$|README\.md$|LICENSE$)/;

function read(file: string): string {
  return readFileSync(new URL(`../${file}`, import.meta.url), 'utf8');
}

it('the package holds what runs and no tests, keys or settings', () => {
  const told = execFileSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const [pack] = JSON.parse(told) as { files: { path: string }[] }[];
  const paths = pack?.files.map(({ path }) => path) ?? [];
  expect(paths.length).toBeGreaterThan(100);
  expect(paths.filter((path) => !PACKED.test(path))).toEqual([]);
  expect(paths.filter((path) => /\.(?:pem|env|ndjson)$|\.test\./.test(path))).toEqual([]);
});

it('nothing that ships runs a script when it is installed, but for the serial port binding', () => {
  const { packages } = JSON.parse(read('package-lock.json')) as Lock;
  const scripted = Object.entries(packages).filter(
    ([, { dev, hasInstallScript }]) => hasInstallScript === true && dev !== true,
  );
  expect(scripted.map(([place]) => place)).toEqual(['node_modules/@serialport/bindings-cpp']);
  expect(Object.values(packages).filter(({ resolved }) => resolved !== undefined)).toEqual([]);
});

it('every package that this one depends on is named in DEVELOPERS.md', () => {
  const { dependencies } = JSON.parse(read('package.json')) as { dependencies: Record<string, string> };
  const [, table = ''] = read('DEVELOPERS.md').split('## What we depend on, and why');
  for (const name of Object.keys(dependencies)) expect(table).toMatch(new RegExp(`\\b${name}\\b`));
});
