import { execFileSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import { packedSamples } from '../../../../daemon/record/capture/samples.js';
import { capturesCsv } from '../../../../daemon/record/export/captures.js';
import { columnsCsv } from '../../../../daemon/record/export/columns.js';
import { csvLine } from '../../../../daemon/record/export/csv.js';
import { extremesCsv } from '../../../../daemon/record/export/extremes.js';
import { sessionJson } from '../../../../daemon/record/export/json.js';
import { readingsCsv } from '../../../../daemon/record/export/readings.js';
import { openOverview } from '../../../../daemon/record/index/overview.js';
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

  it('of captures has every sample with its time from the trigger', async () => {
    const capture = {
      kind: 'capture',
      atMs: 250,
      instrument: 'scope',
      channel: 'ch1',
      point: 'logic.volts',
      unit: 'V',
      ...packedSamples(Int16Array.of(-100, 0, 300)),
      scale: 0.01,
      offset: 5,
      startSeconds: -0.001,
      stepSeconds: 0.0005,
      coupling: 'dc',
    } as const;
    const { file } = await liveSession(await temporaryFolder(), [...PROBES_ON, capture]);
    const text = await textOf(capturesCsv(readRecording(file)));
    // By hand: -100 x 0.01 V + 5 V = 4 V, half a millisecond apart.
    expect(text.split('\r\n').slice(1)).toEqual([
      '1,2026-11-25T08:39:12.595+01:00,0.25,logic.volts,scope,ch1,-0.001,4,V,dc',
      '1,2026-11-25T08:39:12.595+01:00,0.25,logic.volts,scope,ch1,-0.0005,5,V,dc',
      '1,2026-11-25T08:39:12.595+01:00,0.25,logic.volts,scope,ch1,0,8,V,dc',
      '',
    ]);
  });

  it('of extremes has lowest, mean and highest of each stretch, and no line for a gap', async () => {
    const events = [...PROBES_ON, volts(100, 4), volts(900, 5), volts(1200, 7), volts(3000, 6)];
    const { file } = await liveSession(await temporaryFolder(), events);
    const text = await textOf(
      extremesCsv(await openOverview(file, 'test 1'), { fromMs: 0, toMs: 4000, most: 4 }),
    );
    expect(text.split('\r\n').slice(1)).toEqual([
      '2026-11-25T08:39:12.345+01:00,0,1,logic.volts,meter,volts,4,4.5,5,V,2',
      '2026-11-25T08:39:13.345+01:00,1,1,logic.volts,meter,volts,7,7,7,V,1',
      '2026-11-25T08:39:15.345+01:00,3,1,logic.volts,meter,volts,6,6,6,V,1',
      '',
    ]);
  });

  it('as JSON parses and holds every event but ticks', async () => {
    const { file, events } = await liveSession(await temporaryFolder(), eventfulEvents());
    const found = JSON.parse(await textOf(sessionJson(readRecording(file)))) as { events: unknown[] };
    expect(found.events).toHaveLength(events.filter(({ kind }) => kind !== 'tick').length);
  });
});
