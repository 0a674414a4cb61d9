import { appendFile, readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import Papa from 'papaparse';
import { describe, expect, it } from 'vitest';
import type {
  CompareView,
  JobListView,
  MomentView,
  OutcomeView,
  RecordingView,
} from '../../../daemon/serve/job-views.js';
import { temporaryFolder } from '../record/temporary-folder.js';
import { desk, jobFolder, linksOut, partedIn, told, view } from './job-folder.js';

const overview = (recording: string, fromMs = 0, toMs: number | null = null) =>
  ({ kind: 'overview', recording, fromMs, toMs, most: 600 }) as const;

describe('the list', () => {
  it('has every recording, newest first, and says why one of them is none', async () => {
    const folder = await jobFolder();
    await linksOut(folder);
    const parted = await partedIn(folder);
    const { recordings, leftOut } = await view<JobListView>(desk(folder), { kind: 'list' });
    expect(leftOut).toBe(0);
    const times = recordings.map(({ begun }) => (begun === null ? 0 : Date.parse(begun.startedAt)));
    expect(times).toEqual([...times].sort((a, b) => b - a));
    const whyOf = (file: string) => recordings.find((one) => one.file === file)?.why;
    expect(whyOf('healthy.ndjson')).toBe('');
    expect(whyOf(parted)).toBe('');
    expect(recordings.filter(({ file }) => file.includes('-part-'))).toEqual([]);
    expect(whyOf('notes.ndjson')).toMatch(/notes\.ndjson/);
    expect(whyOf('link.ndjson')).toMatch(/leads out of this folder/);
    expect(whyOf('folder.ndjson')).toMatch(/leads out of this folder/);
    expect(recordings.some(({ file }) => file === 'letter.txt')).toBe(false);
    expect(recordings.find(({ file }) => file === 'healthy.ndjson')?.begun).toEqual({
      design: 'signal cabin',
      load: 'full',
      startedAt: '2026-11-25T18:40:00.000+00:00',
    });
  });

  it('is empty for a folder that is not there yet', async () => {
    const folder = join(await temporaryFolder(), 'none');
    expect(await view<JobListView>(desk(folder), { kind: 'list' })).toMatchObject({ recordings: [] });
  });

  it('marks the one that is being written', async () => {
    const folder = await jobFolder();
    const running = join(folder, 'healthy.ndjson');
    const { recordings } = await view<JobListView>(desk(folder), { kind: 'list' }, running);
    expect(recordings.filter((one) => one.running).map(({ file }) => file)).toEqual(['healthy.ndjson']);
    const outcome = await view<OutcomeView>(
      desk(folder),
      { kind: 'outcome', recording: 'healthy.ndjson' },
      running,
    );
    expect(outcome.state).toBe('being recorded now');
  });
});

describe('the outcome', () => {
  // What happened in each is told by the sample's own list of alarms beside it.
  it.each([
    ['healthy.ndjson', true, 'intact', 0, null],
    ['heatsink-missing.ndjson', true, 'intact', 6, /over .*limit|over 1\d\d/],
    ['eight-hour-soak.ndjson.gz', true, 'intact', 0, null],
    ['changed.ndjson', false, 'changed since it was closed', 1, /./],
    ['cut-off.ndjson', false, 'cut off', 1, /./],
  ] as const)('%s: intact %s, %s, %d alarms', async (recording, intact, state, alarms, worst) => {
    const outcome = await view<OutcomeView>(desk(await jobFolder()), { kind: 'outcome', recording });
    expect(outcome).toMatchObject({ file: recording, intact, state, alarms });
    if (worst === null) expect(outcome.worst).toBeNull();
    else expect(outcome.worst?.sentence).toMatch(worst);
  });

  it('counts all files of a session', async () => {
    const folder = await temporaryFolder();
    const recording = await partedIn(folder);
    expect((await readdir(folder)).length).toBeGreaterThan(2);
    const outcome = await view<OutcomeView>(desk(folder), { kind: 'outcome', recording });
    expect(outcome).toMatchObject({ intact: true, lengthMs: 600_000 });
    expect(outcome.bytes).toBeGreaterThan(8000);
  });

  it('of a file that is none is refused with what to do', async () => {
    const answer = await told(desk(await jobFolder()), { kind: 'outcome', recording: 'notes.ndjson' });
    expect(answer).toMatch(/^422 .*notes\.ndjson/);
  });
});

describe('the overview', () => {
  it('has curves, limits and marks of a session', async () => {
    const found = await view<RecordingView>(desk(await jobFolder()), overview('heatsink-missing.ndjson'));
    expect(found).toMatchObject({ running: false, fromMs: 0, problems: [] });
    const hot = found.points.findIndex(({ id }) => id === 'logic.case');
    const curve = found.curves[hot];
    const limit = found.points[hot]?.limits.find(({ side }) => side === 'high')?.value ?? NaN;
    // The sample's list of alarms: over its limit from 0:52 on.
    expect(Math.max(...(curve?.high ?? []))).toBeGreaterThan(limit);
    expect(curve?.atMs).toEqual([...(curve?.atMs ?? [])].sort((a, b) => a - b));
    const firstOver = curve?.atMs.find((_, i) => (curve.high[i] ?? 0) > limit);
    expect(firstOver).toBeGreaterThan(45_000);
    expect(firstOver).toBeLessThan(56_000);
    const over = found.marks.find(({ kind, atMs }) => kind === 'alarm' && atMs === 52_000);
    expect(over?.point).toBe('logic.case');
    expect(found.marks.filter(({ kind }) => kind === 'acknowledged').map(({ atMs }) => atMs)).toEqual([
      60_000,
    ]);
  });

  it('of a stretch has only that stretch, the same in a compressed file and in several files', async () => {
    const folder = await jobFolder();
    const soak = await view<RecordingView>(
      desk(folder),
      overview('eight-hour-soak.ndjson.gz', 3_600_000, 3_660_000),
    );
    expect(soak.lengthMs).toBe(28_800_000);
    for (const { atMs } of soak.curves) {
      expect(atMs[0]).toBeGreaterThanOrEqual(3_590_000);
      expect(atMs.at(-1)).toBeLessThanOrEqual(3_670_000);
    }
    const parted = await view<RecordingView>(desk(folder), overview(await partedIn(folder)));
    expect(parted.curves[0]?.atMs.at(-1)).toBeGreaterThan(590_000);
    expect(parted.readings).toBe(600);
  });

  it('says where the file is damaged, and draws what is left', async () => {
    const found = await view<RecordingView>(desk(await jobFolder()), overview('cut-off.ndjson'));
    expect(found.problems.join(' ')).toMatch(/cut-off\.ndjson/);
    expect(found.curves.length).toBeGreaterThan(0);
  });

  it('of a file that grows is as of some seconds ago at most', async () => {
    const folder = await jobFolder();
    const one = desk(folder);
    await view<RecordingView>(one, overview('cut-off.ndjson'));
    await appendFile(join(folder, 'cut-off.ndjson'), '\n');
    expect((await view<RecordingView>(one, overview('cut-off.ndjson'))).curves.length).toBeGreaterThan(0);
  });
});

describe('a moment', () => {
  it('is as everything stood then, whichever moment was looked at before', async () => {
    const one = desk(await jobFolder());
    const at = (atMs: number) =>
      view<MomentView>(one, { kind: 'state', recording: 'heatsink-missing.ndjson', atMs });
    const verdict = ({ points }: MomentView) => points.find(({ id }) => id === 'logic.case')?.verdict;
    const states = ({ alarms }: MomentView) => alarms.map(({ id, state }) => `${id} ${state}`);
    // From the sample's list of alarms: over its limit from 0:52, acknowledged at 1:00.
    const moments = [
      await at(20_000),
      await at(55_000),
      await at(60_500),
      await at(55_000),
      await at(20_000),
    ];
    expect(states(moments[0]!)).toEqual([]);
    expect(verdict(moments[1]!)).toBe('outside');
    expect(states(moments[1]!)).toContain('over-limit:logic.case unacknowledged');
    expect(states(moments[2]!).join(', ')).toMatch(/over-limit:logic\.case (latched-)?acknowledged/);
    expect(moments[3]).toEqual(moments[1]);
    expect(moments[4]).toEqual(moments[0]);
  });

  it('many at once come out as one after the other', async () => {
    const one = desk(await jobFolder());
    const times = [200_000, 10_000, 150_000, 60_000, 250_000, 0];
    const ask = (atMs: number) => ({ kind: 'state', recording: 'heatsink-missing.ndjson', atMs }) as const;
    const together = await Promise.all(times.map((atMs) => told(one, ask(atMs))));
    const alone = desk(await jobFolder());
    for (const [i, atMs] of times.entries()) expect(together[i]).toBe(await told(alone, ask(atMs)));
  });
});

describe('two sessions', () => {
  it('are laid over each other from their first volts on, with what differs', async () => {
    const before = 'heatsink-missing.ndjson';
    const after = 'healthy.ndjson';
    const found = await view<CompareView>(desk(await jobFolder()), { kind: 'compare', before, after });
    expect(found.before).toMatchObject({ file: before, problems: [] });
    expect(found.before.alarms.length).toBeGreaterThan(0);
    expect(found.after.alarms).toEqual([]);
    const hot = found.points.find(({ point }) => point.id === 'logic.case');
    // A heatsink makes a case colder: common practice.
    expect(hot?.sentence).toMatch(/^logic\.case: .*down by|^logic\.case: not steady/);
    expect(Math.max(...(hot?.before?.high ?? []))).toBeGreaterThan(Math.max(...(hot?.after?.high ?? [])));
  });

  it('one with itself differs in nothing', async () => {
    const [before, after] = ['healthy.ndjson', 'healthy.ndjson'];
    const found = await view<CompareView>(desk(await jobFolder()), { kind: 'compare', before, after });
    expect(found.sameDesign).toBe(true);
    for (const { sentence, before: a, after: b } of found.points) {
      expect(sentence).toMatch(/unchanged/);
      expect(a).toEqual(b);
    }
  });
});

describe('what can be taken along', () => {
  it('tables that another CSV reader reads without a fault (Papa Parse)', async () => {
    const one = desk(await jobFolder());
    for (const form of ['columns', 'readings', 'captures', 'extremes'] as const) {
      const text = await told(one, { kind: 'csv', recording: 'healthy.ndjson', form });
      const { data, errors } = Papa.parse<string[]>(text, { skipEmptyLines: true });
      expect(errors.filter(({ type }) => type !== 'Delimiter')).toEqual([]);
      expect(new Set(data.map((cells) => cells.length)).size).toBe(1);
      expect(text.endsWith('\r\n')).toBe(true);
    }
    const rows = await told(one, { kind: 'csv', recording: 'healthy.ndjson', form: 'readings' });
    // The sample's closing line counts 4316 readings.
    expect(rows.trimEnd().split('\r\n')).toHaveLength(4317);
  });

  it('the report, whose only style is the one that is let in', async () => {
    const answer = await desk(await jobFolder()).answer(
      { kind: 'report', recording: 'healthy.ndjson' },
      null,
    );
    if (!answer.ok) throw new Error(answer.why);
    let page = '';
    for await (const chunk of answer.chunks) page += chunk;
    expect(page).toMatch(/^<!doctype html>/);
    expect(page).not.toMatch(/<script|\son\w+=|\sstyle=/i);
    expect(page.match(/<style/g)).toHaveLength(1);
    expect(answer.styleSha256).toMatch(/^[A-Za-z0-9+/]{43}=$/);
  });
});

describe('a folder that goes away in the middle', () => {
  it('is told, and nothing is thrown', async () => {
    const folder = await jobFolder();
    const one = desk(folder);
    const asks = ['healthy.ndjson', 'heatsink-missing.ndjson', 'cut-off.ndjson'].map((recording) =>
      told(one, { kind: 'outcome', recording }),
    );
    await rm(folder, { recursive: true });
    for (const answer of await Promise.all(asks)) expect(answer).toMatch(/^(404|422|503) |^\{/);
    expect(await told(one, { kind: 'outcome', recording: 'healthy.ndjson' })).toMatch(/^404/);
  });
});

describe('nothing outside the folder', () => {
  it('is read, whatever a name says', async () => {
    const folder = await jobFolder();
    await linksOut(folder);
    const one = desk(folder);
    for (const recording of [
      'link.ndjson',
      'folder.ndjson',
      'elsewhere/secret.ndjson',
      '../beside.ndjson',
      join(folder, 'healthy.ndjson'),
      '',
      '.',
      'healthy.ndjson\0',
      'none.ndjson',
    ]) {
      for (const ask of [
        { kind: 'outcome', recording },
        overview(recording),
        { kind: 'state', recording, atMs: 0 },
        { kind: 'compare', before: recording, after: 'healthy.ndjson' },
        { kind: 'compare', before: 'healthy.ndjson', after: recording },
        { kind: 'report', recording },
        { kind: 'csv', recording, form: 'columns' },
      ] as const) {
        expect(await told(one, ask)).toMatch(/^404 There is no such recording/);
      }
    }
  });
});
