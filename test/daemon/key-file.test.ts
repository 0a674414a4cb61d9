import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { keysIn } from '../../daemon/key-file.js';

const folder = mkdtempSync(join(tmpdir(), 'railminder-keys-'));

afterAll(() => rmSync(folder, { recursive: true, force: true }));

it('is made for its owner alone and gives the same keys the next time', () => {
  const file = join(folder, 'cabin.keys');
  const first = keysIn(file);
  expect(statSync(file).mode & 0o777).toBe(0o600);
  const again = keysIn(file);
  for (const role of ['act', 'look'] as const) expect(again.keyOf(role)).toBe(first.keyOf(role));
});

it('that others may read is refused with the cure', () => {
  const file = join(folder, 'open.keys');
  keysIn(file);
  chmodSync(file, 0o644);
  expect(() => keysIn(file)).toThrow(`others on this machine may read it; run "chmod 600 ${file}"`);
});

it.each([
  ['empty', ''],
  ['a key that is easily guessed', 'act 1234\nlook 5678\n'],
  ['one key for both', `act ${'a'.repeat(24)}\nlook ${'a'.repeat(24)}\n`],
  ['something else', 'root:x:0:0:root:/root:/bin/bash\n'],
])('that is %s is refused, says nothing of what is in it, and stays', (name, text) => {
  const file = join(folder, `${name}.keys`);
  writeFileSync(file, text, { mode: 0o600 });
  expect(() => keysIn(file)).toThrow(/there are no keys of ours in it; delete it, and new ones are made$/);
  expect(readFileSync(file, 'utf8')).toBe(text);
});

it('in a folder that is not there is refused with the cure', () => {
  expect(() => keysIn(join(folder, 'none', 'cabin.keys'))).toThrow(/it can't be made \(ENOENT\)/);
});
