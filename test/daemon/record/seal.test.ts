import { execFileSync } from 'node:child_process';
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { BeforeLastLine } from '../../../daemon/record/seal.js';
import { opened, problemsIn, itemsOf } from './open.js';
import { volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

/** What coreutils say: everything but the last line. */
function sha256sum(path: string): string {
  return execFileSync('sh', ['-c', 'head -n -1 "$1" | sha256sum', 'sh', path], { encoding: 'utf8' }).slice(
    0,
    64,
  );
}

it('is what sha256sum says of everything before the last line, however the bytes come (fast-check, seed 31)', async () => {
  const path = join(await temporaryFolder(), 'lines');
  const text = `${['{"a":1}', '', 'Größe', 'x'.repeat(9000), '[1,2]', '{"seal":1}'].join('\n')}\n`;
  await writeFile(path, text);
  const expected = sha256sum(path);
  const bytes = Buffer.from(text);
  const cuts = fc.array(fc.nat({ max: bytes.length }), { maxLength: 12 });
  fc.assert(
    fc.property(cuts, (at) => {
      const seal = new BeforeLastLine();
      const edges = [0, ...[...at].sort((a, b) => a - b), bytes.length];
      edges.forEach((edge, i) => seal.push(bytes.subarray(edge, edges[i + 1] ?? bytes.length)));
      expect(seal.digest()).toBe(expected);
    }),
    { seed: 31, numRuns: 300 },
  );
});

it('stands in a closed recording as sha256sum has it, and a changed digit is told', async () => {
  const { recording } = await opened(await temporaryFolder());
  for (let i = 0; i < 50; i += 1) recording.append(volts(i, 5.01));
  await recording.close(50);
  const file = recording.file ?? '';
  const text = await readFile(file, 'utf8');
  expect(JSON.parse(text.trimEnd().split('\n').at(-1) ?? '')).toEqual({
    kind: 'seal',
    sha256: sha256sum(file),
  });
  await writeFile(file, text.replace('[32,0,5.01', '[32,0,5.02'));
  expect(problemsIn(await itemsOf(file))).toEqual(['altered']);
});
