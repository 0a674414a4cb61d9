import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { columnsCsv } from '../../../../daemon/record/export/columns.js';
import { csvLine } from '../../../../daemon/record/export/csv.js';
import { sessionJson } from '../../../../daemon/record/export/json.js';
import { readingsCsv } from '../../../../daemon/record/export/readings.js';
import { readRecording } from '../../../../daemon/record/reader.js';
import { eventfulEvents, liveSession } from '../live-session.js';
import { PROBES_ON, volts } from '../signal-cabin.js';
import { temporaryFolder } from '../temporary-folder.js';

async function textOf(chunks: AsyncIterable<string>): Promise<string> {
  let text = '';
  for await (const chunk of chunks) text += chunk;
  return text;
}

describe('csvLine', () => {
  it('reads back in a CSV package and in Python, whatever is in it (fast-check, seed 4180)', async () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '\r', ';', 'ü', ' '), minLength: 1 });
    const rows = fc.sample(fc.array(cell, { minLength: 3, maxLength: 3 }), { seed: 4180, numRuns: 200 });
    // A leading line break could start a formula in some programs: such a cell gets an apostrophe.
    const expected = rows.map((row) => row.map((text) => (text.startsWith('\r') ? `'${text}` : text)));
    const text = rows.map(csvLine).join('');
    expect(Papa.parse<string[]>(text.trimEnd(), { delimiter: ',' }).data).toEqual(expected);
    const file = join(await temporaryFolder(), 'x.csv');
    await writeFile(file, text);
    const script =
      'import csv,json,sys;print(json.dumps(list(csv.reader(open(sys.argv[1],newline="",encoding="utf-8")))))';
    expect(JSON.parse(execFileSync('python3', ['-c', script, file], { encoding: 'utf8' }))).toEqual(expected);
  });

  it('keeps a spreadsheet from computing what an instrument is called', () => {
    expect(csvLine(['=1+1', '-x', '@y', -5, null])).toBe("'=1+1,'-x,'@y,-5,\r\n");
  });
});

describe('an export', () => {
  it('has every reading with its time of day, test point and mark', async () => {
    const overload = { ...volts(1500, 0), value: null, mark: 'overload' } as const;
    const { file } = await liveSession(await temporaryFolder(), [...PROBES_ON, volts(250, 5.01), overload]);
    const text = await textOf(readingsCsv(readRecording(file)));
    // By hand, after the header's start 08:39:12.345+01:00.
    expect(text.split('\r\n').slice(1)).toEqual([
      '2026-11-25T08:39:12.595+01:00,0.25,logic.volts,meter,volts,5.01,V,',
      '2026-11-25T08:39:13.845+01:00,1.5,logic.volts,meter,volts,,V,overload',
      '',
    ]);
  });

  it('in columns gives means of each stretch, units in the head, gaps empty', async () => {
    const events = [...PROBES_ON, volts(100, 4), volts(900, 5), volts(3000, 6)];
    const { file } = await liveSession(await temporaryFolder(), events);
    const text = await textOf(columnsCsv(readRecording(file), 1000));
    expect(text.split('\r\n')).toEqual([
      'time (ISO 8601),since start (s),logic.volts (V),logic.case (degC)',
      '2026-11-25T08:39:12.345+01:00,0,4.5,',
      '2026-11-25T08:39:15.345+01:00,3,6,',
      '',
    ]);
  });

  it('as JSON parses and holds every event but ticks', async () => {
    const { file, events } = await liveSession(await temporaryFolder(), eventfulEvents());
    const found = JSON.parse(await textOf(sessionJson(readRecording(file)))) as { events: unknown[] };
    expect(found.events).toHaveLength(events.filter(({ kind }) => kind !== 'tick').length);
  });
});
