import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/** For each part of the house: what it may import of the others. `type:` means types only. */
const ALLOWED: Readonly<Record<string, readonly string[]>> = {
  'daemon/design': [],
  'daemon/predict': ['daemon/design'],
  'daemon/procedure': ['daemon/predict', 'daemon/design'],
  'daemon/watch': ['type:daemon/procedure', 'daemon/predict', 'daemon/design'],
  'daemon/time': [],
  'daemon/record': [
    'daemon/watch',
    'type:daemon/procedure',
    'daemon/predict',
    'daemon/design',
    'daemon/time',
  ],
  'daemon/serve': [
    'type:daemon/procedure',
    'daemon/time',
    'type:daemon/watch',
    'daemon/watch',
    'type:daemon/predict',
    'type:daemon/design',
  ],
  drivers: [],
  'drivers/simulated': ['drivers', 'type:daemon/design'],
  web: ['type:daemon/serve'],
};
const PURE = ['daemon/predict', 'daemon/procedure', 'daemon/watch'];

interface Import {
  readonly from: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => join(folder, file).split(sep).join('/'));
}

function importsOf(file: string): Import[] {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const statement = /(?:^|\n)\s*(import|export)\s+(type\s)?(?:[^'";]*?\sfrom\s+)?['"]([^'"]+)['"]/g;
  const dynamic = /\bimport\(\s*['"]([^'"]+)['"]\s*\)/g;
  return [
    ...[...text.matchAll(statement)].map((m) => ({
      from: file,
      target: m[3] ?? '',
      typeOnly: m[2] !== undefined,
    })),
    ...[...text.matchAll(dynamic)].map((m) => ({ from: file, target: m[1] ?? '', typeOnly: false })),
  ];
}

function partOf(path: string): string {
  const parts = Object.keys(ALLOWED).sort((a, b) => b.length - a.length);
  return (
    parts.find((part) => path.startsWith(`${part}/`)) ?? (path.startsWith('daemon/') ? 'daemon' : 'outside')
  );
}

function offence({ from, target, typeOnly }: Import): string | null {
  const home = partOf(from);
  if (!target.startsWith('.')) {
    return PURE.includes(home) ? `${from}: a pure part imports ${target}` : null;
  }
  const path = relative(ROOT, resolve(ROOT, dirname(from), target))
    .split(sep)
    .join('/');
  const other = partOf(path);
  const allowed = ALLOWED[home] ?? [];
  const fine = other === home || allowed.includes(other) || (typeOnly && allowed.includes(`type:${other}`));
  return fine ? null : `${from}: ${home} may not import ${typeOnly ? 'types of ' : ''}${other} (${target})`;
}

describe('imports go one way', () => {
  const files = ['daemon', 'drivers', 'web'].flatMap(sourceFiles).filter((file) => partOf(file) !== 'daemon');

  it('finds the sources', () => {
    expect(files.length).toBeGreaterThan(30);
  });

  it('no part imports what it may not know, and the pure parts import no package', () => {
    const offences = files
      .flatMap(importsOf)
      .map(offence)
      .filter((found) => found !== null);
    expect(offences).toEqual([]);
  });

  it('YAML is read in one place, which bounds it', () => {
    const all = ['daemon', 'drivers', 'web'].flatMap(sourceFiles);
    const readers = all.filter((file) =>
      /import \{[^}]*\b(?:parse\w*|Parser|Composer|Lexer)\b[^}]*\} from 'yaml'|import \* as \w+ from 'yaml'/.test(
        readFileSync(join(ROOT, file), 'utf8'),
      ),
    );
    expect(readers).toEqual(['daemon/design/yaml-text.ts']);
  });

  it('tells an offence when there is one', () => {
    const bad = { from: 'daemon/watch/x.ts', typeOnly: false };
    expect(offence({ ...bad, target: 'node:fs' })).toMatch(/pure part imports node:fs/);
    expect(offence({ ...bad, target: '../serve/hub.js' })).toMatch(/may not import daemon\/serve/);
    expect(offence({ from: 'web/app.ts', target: '../daemon/serve/messages.js', typeOnly: true })).toBeNull();
    expect(offence({ from: 'web/app.ts', target: '../daemon/serve/hub.js', typeOnly: false })).toMatch(
      /web may not/,
    );
  });
});
