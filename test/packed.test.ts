import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

interface Lock {
  readonly packages: Readonly<
    Record<string, { readonly hasInstallScript?: true; readonly resolved?: string }>
  >;
}

/** How npm marks in its list what is for building and tests. */
const DEVELOPMENT = 'cdx:npm:package:development';

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

it('nothing runs a script when it is installed, but for the serial port binding', () => {
  const { packages } = JSON.parse(read('package-lock.json')) as Lock;
  const scripted = Object.entries(packages).filter(
    // A macOS file watcher, which only the building may take along.
    ([place, { hasInstallScript }]) => hasInstallScript === true && place !== 'node_modules/fsevents',
  );
  expect(scripted.map(([place]) => place)).toEqual(['node_modules/@serialport/bindings-cpp']);
  expect(Object.values(packages).filter(({ resolved }) => resolved !== undefined)).toEqual([]);
});

it('every package is named in DEVELOPERS.md with what it is for, and none is that is not used', () => {
  const { dependencies, devDependencies } = JSON.parse(read('package.json')) as Record<
    'dependencies' | 'devDependencies',
    Record<string, string>
  >;
  const [, table = ''] = read('DEVELOPERS.md').split('## What we depend on, and why');
  const rows = table.split('\n').filter((line) => /^\| +[a-z@]/.test(line));
  const named = rows.slice(1).flatMap((row) => row.split('|')[1]?.trim().split(', ') ?? []);
  expect(named.toSorted()).toEqual(Object.keys({ ...dependencies, ...devDependencies }).toSorted());
});

it('few packages ship, and the list of them can be made (npm sbom, CycloneDX 1.5)', () => {
  const told = execFileSync('npm', ['sbom', '--sbom-format', 'cyclonedx'], {
    cwd: ROOT,
    encoding: 'utf8',
  });
  const { bomFormat, components } = JSON.parse(told) as {
    bomFormat: string;
    components: { name: string; properties: { name: string }[] }[];
  };
  expect(bomFormat).toBe('CycloneDX');
  const ships = components.filter(({ properties }) => !properties.some(({ name }) => name === DEVELOPMENT));
  const names = ships.map(({ name }) => name);
  expect(names).toEqual(expect.arrayContaining(['serialport', 'ws', 'yaml', 'zod', 'uqr']));
  expect(names.length).toBeLessThan(40);
});
