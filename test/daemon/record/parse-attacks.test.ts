import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { NotARecording } from '../../../daemon/record/parse.js';
import { readPieces } from '../../../daemon/record/reader.js';

const DEEP = '['.repeat(100_000) + ']'.repeat(100_000);
const CHANNEL = '{"kind":"channel","index":0,"instrument":"a","channel":"b","unit":"V"}';
const SAMPLE = new URL('../../../recordings/diode-open.ndjson', import.meta.url);

/** The kinds of what is read from a recording with this text. */
async function kindsIn(text: string): Promise<string[]> {
  const folder = await mkdtemp(join(tmpdir(), 'railminder-attack-'));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  await writeFile(join(folder, 'a.ndjson'), text);
  const kinds: string[] = [];
  for await (const { items } of readPieces(join(folder, 'a.ndjson')))
    kinds.push(...items.map(({ kind }) => kind));
  return kinds;
}

it.each([
  ['that nests without end', `{"kind":${DEEP}}`],
  ['with a text that nests without end', `{"kind":"note","atMs":1,"text":${DEEP}}`],
  ['of the prototype', '{"kind":"__proto__","atMs":1}'],
  ['of a constructor', '{"kind":"constructor","atMs":1}'],
  ['for a channel that never was', '[1e9,0]'],
  ['with a value beyond a double', `${CHANNEL}\n[1,0,1e400]`],
  ['with a value below any double', `${CHANNEL}\n[1,0,-1e400]`],
  ['at a time beyond a double', '[1e400]'],
  ['at a time that is no date', '[1e300]'],
  ['whose times add up to no date', '[1,-1,1e300,-1]'],
])('a line %s is a problem and no event', async (_, line) => {
  const [head = ''] = (await readFile(SAMPLE, 'utf8')).split('\n');
  const kinds = await kindsIn(`${head}\n${line}\n`);
  expect([...new Set(kinds)]).toEqual(['header', 'problem']);
});

it.each([DEEP, `{"kind":${DEEP}}`, '{"kind":"__proto__"}'])(
  'a file that begins so is no recording',
  async (text) => {
    await expect(kindsIn(`${text}\n`)).rejects.toBeInstanceOf(NotARecording);
  },
);

it.each(['', 'yesterday', '2026-13-01T00:00:00.000+00:00', '+275760-09-13T00:00:00.000Z'])(
  'a file that began at "%s" is refused by its key',
  async (startedAt) => {
    const [head = ''] = (await readFile(SAMPLE, 'utf8')).split('\n');
    const text = head.replace(/"startedAt":"[^"]*"/, `"startedAt":"${startedAt}"`);
    await expect(kindsIn(`${text}\n`)).rejects.toThrow(
      /:1 the first line is damaged: startedAt: found no moment/,
    );
  },
);
