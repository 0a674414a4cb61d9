import { appendFile, readFile, readdir, rename, stat, utimes, writeFile } from 'node:fs/promises';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cachePath } from '../../../../daemon/record/index/cache-file.js';
import { openOverview, type Overview, type Series } from '../../../../daemon/record/index/overview.js';
import type { ReadingEvent } from '../../../../daemon/watch/events.js';
import { longEvents, recordEvents } from '../long-session.js';
import { seeded } from '../seeded.js';
import { temporaryFolder } from '../temporary-folder.js';

const SECONDS = 1800;

describe('an overview of half an hour', () => {
  const folder = mkdtempSync(join(tmpdir(), 'railminder-overview-'));
  let readings: readonly ReadingEvent[];
  let file: string;

  beforeAll(async () => {
    const moved = { kind: 'probe', atMs: 900_000, instrument: 'logger', channel: 'c', point: null } as const;
    const all = [...longEvents(SECONDS, 10, 5)];
    const half = all.findIndex(({ atMs }) => atMs > 900_000);
    const events = [...all.slice(0, half), moved, ...all.slice(half)];
    readings = events.filter((event) => event.kind === 'reading');
    file = await recordEvents(folder, events);
  });

  afterAll(() => rmSync(folder, { recursive: true }));

  function seriesOf(overview: Overview, channel: string, point: string | null): Series {
    const found = overview.series.find((one) => one.channel === channel && one.point === point);
    if (found === undefined) throw new Error(`no series of ${channel} at ${point}`);
    return found;
  }

  /** What the readings themselves say of a stretch of time. */
  function plainly(channel: string, fromMs: number, toMs: number) {
    const values = readings
      .filter((one) => one.channel === channel && one.atMs >= fromMs && one.atMs < toMs)
      .flatMap(({ value }) => (value === null ? [] : [value]));
    const sum = values.reduce((all, value) => all + value, 0);
    return {
      low: Math.min(...values),
      high: Math.max(...values),
      count: values.length,
      mean: sum / values.length,
    };
  }

  it.each(['plain', 'compressed', 'from its cache'])(
    'gives any range of any channel as the readings have it, in at most N buckets (%s; fast-check, seed 88)',
    async (kind) => {
      const path = kind === 'compressed' ? `${file}.gz` : file;
      if (kind === 'compressed') await writeFile(path, gzipSync(await readFile(file)));
      const overview = await openOverview(path, 'test 1');
      const property = fc.asyncProperty(
        fc.constantFrom('a', 'e', 'h'),
        fc.nat({ max: SECONDS * 1000 - 1 }),
        fc.integer({ min: 1, max: SECONDS * 1000 }),
        fc.integer({ min: 1, max: 900 }),
        async (channel, fromMs, lengthMs, most) => {
          const series = overview.series.find((one) => one.channel === channel);
          if (series === undefined) throw new Error(`no series of ${channel}`);
          const toMs = Math.min(fromMs + lengthMs, SECONDS * 1000);
          const buckets = await overview.curve(series, { fromMs, toMs, most });
          expect(buckets.length).toBeLessThanOrEqual(most);
          for (const bucket of buckets.filter((_, i) => i % 97 === 0)) {
            const { low, high, count, mean } = plainly(channel, bucket.fromMs, bucket.toMs);
            expect(bucket).toMatchObject({ low, high, count });
            expect(bucket.mean).toBeCloseTo(mean, 9);
          }
        },
      );
      await fc.assert(property, { seed: 88, numRuns: 20 });
    },
    120_000,
  );

  it('keeps what a channel measured before and after its probe was moved apart', async () => {
    const overview = await openOverview(file, 'test 1');
    const [on, off] = [seriesOf(overview, 'c', 'logic.volts'), seriesOf(overview, 'c', null)];
    const counted = (series: Series) => series.buckets.reduce((sum, { count }) => sum + count, 0);
    expect(counted(on) + counted(off)).toBe(readings.filter(({ channel }) => channel === 'c').length);
    expect(await overview.curve(on, { fromMs: 1_000_000, toMs: 1_010_000, most: 100 })).toEqual([]);
    expect(await overview.curve(off, { fromMs: 1_000_000, toMs: 1_010_000, most: 100 })).toHaveLength(100);
    expect(overview).toMatchObject({ readings: readings.length, problems: [] });
  });

  it('is made anew when the cache is deleted, damaged, or the recording was changed', async () => {
    const cache = cachePath(file, 'overview');
    await openOverview(file, 'test 1');
    const text = await readFile(cache, 'utf8');
    await writeFile(cache, text.replace('"readings":144000', '"readings":144001'));
    expect((await openOverview(file, 'test 1')).readings).toBe(144_000);
    expect(await readFile(cache, 'utf8')).toBe(text);
    const before = await readFile(file, 'utf8');
    await writeFile(file, before.replace(',0,19.', ',0,18.'));
    const { mtime } = await stat(file);
    await utimes(file, mtime, new Date(mtime.getTime() + 5000));
    expect((await openOverview(file, 'test 1')).problems).toMatchObject([{ problem: 'altered' }]);
    await writeFile(file, before);
  });

  it('with one bit flipped in the cache, three hundred times: never a crash, never another curve (seed 41)', async () => {
    const short = await recordEvents(await temporaryFolder(), longEvents(20, 10, 5));
    const cache = cachePath(short, 'overview');
    const whole = JSON.stringify(await openOverview(short, 'test 1'));
    const bytes = await readFile(cache);
    const random = seeded(41);
    for (let run = 0; run < 300; run += 1) {
      const flipped = Buffer.from(bytes);
      // Half of them in the key, where a mistake would be worst.
      const place = Math.floor(random() * (run % 2 === 0 ? 300 : bytes.length));
      flipped[place] = (flipped[place] ?? 0) ^ (1 << Math.floor(random() * 8));
      await writeFile(cache, flipped);
      expect(JSON.stringify(await openOverview(short, 'test 1')), `byte ${place}`).toBe(whole);
      expect((await readFile(cache)).equals(bytes), `byte ${place}`).toBe(true);
    }
  }, 60_000);

  it('of a session that still grows has what is there by then', async () => {
    const other = join(await temporaryFolder(), 'live.ndjson');
    const lines = (await readFile(file, 'utf8')).split('\n');
    await writeFile(other, `${lines.slice(0, 1000).join('\n')}\n`);
    const early = await openOverview(other, 'test 1');
    await appendFile(other, `${lines.slice(1000, 2000).join('\n')}\n`);
    const later = await openOverview(other, 'test 1');
    expect(later.readings).toBeGreaterThan(early.readings);
    expect(later.problems.map(({ problem }) => problem)).toEqual(['not-closed']);
  });

  it('goes with its recording into another folder, and is no recording in a listing', async () => {
    await openOverview(file, 'test 1');
    const other = await temporaryFolder();
    const [moved, cache] = [join(other, 'long.ndjson'), cachePath(file, 'overview')];
    expect((await readdir(dirname(file))).filter((name) => name.endsWith('.ndjson'))).toHaveLength(1);
    await rename(cache, cachePath(moved, 'overview'));
    await writeFile(moved, await readFile(file));
    // Another name than the cache was made for: it counts for nothing.
    const overview = await openOverview(moved, 'test 1');
    const [series] = overview.series;
    expect(series && (await overview.curve(series, { fromMs: 0, toMs: 1000, most: 10 }))).toHaveLength(10);
  });
});
