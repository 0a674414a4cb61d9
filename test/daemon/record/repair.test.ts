import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listRecordings } from '../../../daemon/record/listing.js';
import { repairedLines, type RepairReport } from '../../../daemon/record/repair.js';
import { eventfulEvents, liveSession } from './live-session.js';
import { eventsIn, itemsOf, problemsIn } from './open.js';
import { temporaryFolder } from './temporary-folder.js';

async function repaired(file: string): Promise<{ copy: string; report: RepairReport }> {
  const report: RepairReport = { kept: 0, dropped: 0, altered: false };
  let text = '';
  for await (const line of repairedLines(file, report)) text += line;
  const copy = file.replace('.ndjson', '-repaired.ndjson');
  await writeFile(copy, text);
  return { copy, report };
}

describe('a repaired copy', () => {
  it('of a file cut in the middle of a line holds every whole event, closed and sealed; the file is untouched', async () => {
    const live = await liveSession(await temporaryFolder(), eventfulEvents());
    const text = await readFile(live.file, 'utf8');
    const cut = text.slice(0, text.indexOf('\n[62000,') + 9);
    await writeFile(live.file, cut);
    const { copy, report } = await repaired(live.file);
    const items = await itemsOf(copy);
    expect(problemsIn(items)).toEqual(['lost']);
    expect(eventsIn(items)).toEqual(eventsIn(await itemsOf(live.file)));
    expect(report).toMatchObject({ dropped: 1, altered: false });
    expect(await readFile(live.file, 'utf8')).toBe(cut);
  });

  it('of a changed file says in its header that no number can be trusted', async () => {
    const live = await liveSession(await temporaryFolder(), eventfulEvents());
    await writeFile(live.file, (await readFile(live.file, 'utf8')).replace('[500,0,5.01', '[500,0,5.02'));
    const { copy } = await repaired(live.file);
    const [header] = await itemsOf(copy);
    expect(header).toMatchObject({ header: { repairedFrom: { dropped: 0, altered: true } } });
  });
});

it('a listing tells what is in a folder and what is wrong with it', async () => {
  const folder = await temporaryFolder();
  const live = await liveSession(folder, eventfulEvents());
  await writeFile(join(folder, 'zz.ndjson'), 'not a recording\n');
  const found = [];
  for await (const one of listRecordings(folder)) found.push(one);
  expect(found).toMatchObject([
    { lengthMs: 120_000, problems: {}, header: { design: { file: 'signal-cabin.design.yaml' } } },
    { file: 'zz.ndjson', why: expect.stringMatching(/not a recording/) as string },
  ]);
  expect(found[0]).toMatchObject({ raised: expect.arrayContaining(['over-limit:logic.case']) as string[] });
  await writeFile(live.file, (await readFile(live.file, 'utf8')).replace('sleeve', 'elbow!'));
  for await (const one of listRecordings(folder))
    if (!('why' in one)) expect(one.problems).toEqual({ altered: 1 });
});
