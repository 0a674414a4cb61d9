import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { singleItems, type RecordingItem } from '../../../daemon/record/parse.js';
import { parsePieces } from '../../../daemon/record/reader.js';
import { itemsOf } from './open.js';
import { HEADER, volts } from './signal-cabin.js';
import { temporaryFolder } from './temporary-folder.js';

/** Of version 1, which is still read; it has no seal. */
const OLD_HEADER = { ...HEADER, version: 1 } as const;
const HEADER_LINE = JSON.stringify(OLD_HEADER);
const CHANNEL = '{"kind":"channel","index":0,"instrument":"meter","channel":"volts","unit":"V"}';
const END = '{"kind":"end","atMs":9,"summary":{"readings":1,"events":1,"alarms":0,"lost":0}}';

/** Reads bytes in pieces that end at `cuts`. */
async function read(bytes: Buffer | string, cuts: readonly number[] = []): Promise<RecordingItem[]> {
  const whole = Buffer.from(bytes);
  async function* pieces(): AsyncGenerator<Buffer> {
    const edges = [0, ...[...cuts].sort((a, b) => a - b), whole.length];
    for (const [i, edge] of edges.entries()) {
      await Promise.resolve();
      yield whole.subarray(edge, edges[i + 1] ?? whole.length);
    }
  }
  const items: RecordingItem[] = [];
  const place = { path: 'x.ndjson', byte: 0, line: 1, memory: null };
  for await (const piece of parsePieces(place, pieces())) items.push(...singleItems(piece.items));
  return items;
}

function lines(...after: readonly string[]): string {
  return [HEADER_LINE, CHANNEL, ...after].map((line) => `${line}\n`).join('');
}

describe('a whole recording', () => {
  it('gives header, events, effects and end with their lines', async () => {
    const effect = { kind: 'alarm', atMs: 1, change: 'raised', alarm: { id: 'stale:meter' } };
    const items = await read(lines('[1,0,4.99]', JSON.stringify({ kind: 'effect', effect }), END));
    expect(items).toEqual([
      { kind: 'header', line: 1, header: OLD_HEADER },
      { kind: 'event', line: 3, event: volts(1, 4.99) },
      { kind: 'effect', line: 4, effect },
      { kind: 'end', line: 5, atMs: 9, summary: { readings: 1, events: 1, alarms: 0, lost: 0 } },
    ]);
  });

  it('gives what several readings and ticks in one line say, in the order of the line', async () => {
    // Written by hand after recordings/README.md.
    const items = await read(lines('[100,0,5,0,-1,250,0,null,"overload",250,-1]', END));
    expect(items.flatMap((item) => (item.kind === 'event' ? [item.event] : []))).toEqual([
      volts(100, 5),
      { kind: 'tick', atMs: 100 },
      { ...volts(350, 0), value: null, mark: 'overload' },
      { kind: 'tick', atMs: 600 },
    ]);
  });

  it('is the same however the bytes are cut (fast-check, seed 4711)', async () => {
    const text = Buffer.from(
      lines('[1,0,4.99]', '{"kind":"note","atMs":2,"text":"Größe ✓ 🚂"}', '[broken', END),
    );
    const whole = await read(text);
    const cuts = fc.array(fc.nat({ max: text.length }), { maxLength: 30 });
    const property = fc.asyncProperty(cuts, async (at) => {
      expect(await read(text, at)).toEqual(whole);
    });
    await fc.assert(property, { seed: 4711, numRuns: 200 });
  });

  it('takes line ends as an editor on another system leaves them', async () => {
    const items = await read(lines('[1,0,4.99]', '', END).replaceAll('\n', '\r\n'));
    expect(items.map(({ kind }) => kind)).toEqual(['header', 'event', 'end']);
  });
});

describe('a damaged recording', () => {
  it('cut off anywhere: every whole line is there, the torn one is dropped and told', async () => {
    const text = Buffer.from(lines('[1,0,4.99]', '{"kind":"tick","atMs":2}', '[3,0,5.01]'));
    const first = Buffer.byteLength(`${HEADER_LINE}\n${CHANNEL}\n`);
    for (let length = first; length <= text.length; length += 1) {
      const items = await read(text.subarray(0, length));
      const rest = text.subarray(first, length).toString().split('\n');
      const whole = rest.filter((line) => /^(\[.*\]|\{.*\})$/.test(line)).length;
      expect(items.filter(({ kind }) => kind === 'event')).toHaveLength(whole);
      const torn = rest.at(-1) !== '' && !/[\]}]$/.test(rest.at(-1) ?? '');
      const problems = items.flatMap((item) => (item.kind === 'problem' ? [item.problem] : []));
      expect(problems).toEqual(torn ? ['torn', 'not-closed'] : ['not-closed']);
    }
  });

  it.each([
    ['junk', '\\x00\\x01 junk', /found ".*"; it is not JSON, skipped/],
    ['an unknown channel', '[1,7,4.99]', /its channel was never declared/],
    ['a value as text', '[1,0,"4.99"]', /it is no reading/],
    ['an unknown mark', '[1,0,null,"maybe"]', /it is no reading/],
    ['a row with a reading of an unknown channel', '[1,0,5,250,7,5]', /its channel was never declared/],
    ['a row that goes back in time', '[1,0,5,-1,0,5]', /it is no reading/],
    ['a row without its last value', '[1,0,5,250,0]', /it is no reading/],
    ['a row without its last index', '[1,0,5,250]', /its channel was never declared/],
    ['an empty row', '[]', /it is no reading/],
    ['a mark with a value', '[1,0,5,"overload"]', /it is no reading/],
    ['an unknown event', '{"kind":"dance","atMs":1}', /it is no event that this program knows/],
    ['an event without its keys', '{"kind":"probe","atMs":1}', /it is no event/],
    ['a prototype key as kind', '{"kind":"constructor","atMs":1}', /it is no event/],
    ['a bare number', '17', /neither an event nor a reading/],
    ['null', 'null', /neither an event nor a reading/],
  ])('%s: that line is skipped with its number and the rest is read', async (_, bad, why) => {
    const items = await read(lines(bad, '[2,0,5]', END));
    expect(items[1]).toMatchObject({ kind: 'problem', problem: 'damaged', line: 3 });
    expect(items[1]?.kind === 'problem' ? items[1].why : '').toMatch(why);
    expect(items[2]).toEqual({ kind: 'event', line: 4, event: volts(2, 5) });
  });

  it('bytes that are no text are skipped, the lines around them are not', async () => {
    const text = Buffer.from(lines('[1,0,4]', '{"kind":"note","atMs":2,"text":"?"}', '[3,0,5]', END));
    text[text.indexOf('"?"') + 1] = 0xff;
    const kinds = (await read(text)).map((item) => (item.kind === 'problem' ? item.problem : item.kind));
    expect(kinds).toEqual(['header', 'event', 'not-text', 'event', 'end']);
  });

  it('a line without end is held in bounded memory, skipped and told', async () => {
    const long = `{"kind":"note","atMs":2,"text":"${'x'.repeat(5 * 1024 * 1024)}"}`;
    const text = lines(long, '[3,0,5]', END);
    const cuts = Array.from({ length: 80 }, (_, i) => i * 65_536);
    const kinds = (await read(text, cuts)).map((item) =>
      item.kind === 'problem' ? item.problem : item.kind,
    );
    expect(kinds).toEqual(['header', 'too-long', 'event', 'end']);
  });
});

describe('a file that is no recording', () => {
  it.each([
    ['empty', '', /x\.ndjson: the file is empty/],
    ['something else', 'a,b,c\n1,2,3\n', /x\.ndjson:1: not a recording/],
    [
      'a torn header',
      HEADER_LINE.slice(0, 200),
      /x\.ndjson:1: not a recording, or its first line is damaged/,
    ],
    [
      'a later version',
      lines().replace('"version":1', '"version":4'),
      /version: found 4, this program reads up to 3/,
    ],
    ['no plan', lines().replace('"plan"', '"plane"'), /the first line is damaged: plan: /],
  ])('%s is refused with the place and the cure', async (_, text, message) => {
    await expect(read(text)).rejects.toThrow(message);
  });

  it('a file that is not there is refused by name', async () => {
    const folder = await temporaryFolder();
    await expect(itemsOf(join(folder, 'none.ndjson'))).rejects.toThrow(
      /none\.ndjson: there is no such file; name a rec/,
    );
    await writeFile(join(folder, 'empty.ndjson'), '');
    await expect(itemsOf(join(folder, 'empty.ndjson'))).rejects.toThrow(/the file is empty/);
    await expect(itemsOf(folder)).rejects.toThrow(/that is a folder/);
  });
});
