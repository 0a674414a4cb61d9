import type { PointUnit } from '../../predict/prediction.js';
import type { ReadingEvent } from '../../watch/events.js';
import { ProbePlaces, type ProbeEntries } from '../export/probe-places.js';
import type { RecordingHeader } from '../header.js';
import { NotARecording, type PieceItem, type RecordingItem } from '../parse.js';
import { readPieces, readPiecesFrom, type RecordingPiece, type RecordingPlace } from '../reader.js';
import { Decimator, type Bucket } from '../session/decimator.js';
import { Tally, type SessionTally } from '../tally.js';
import { fromColumns, toColumns, type BucketColumns } from './bucket-columns.js';
import {
  cacheKey,
  cachePath,
  isSameFirst,
  loadCache,
  placeBeside,
  saveCache,
  type CacheKey,
} from './cache-file.js';
import { Happenings, type Happening } from './happenings.js';
import { SeriesReadings } from './series-readings.js';
import { joinedTo } from './stretches.js';

/** Two seconds each over eight hours. */
const BUCKETS = 16_384;
const MOST_PROBLEMS = 100;
/** A cache with other things in it is made anew. */
const CACHE_FORM = 'overview 2';

/** What one channel measured while its probe sat on one test point. */
export interface Series {
  readonly instrument: string;
  readonly channel: string;
  readonly unit: PointUnit;
  /** Null: the probe sat nowhere. */
  readonly point: string | null;
  readonly buckets: readonly Bucket[];
}

/** A place in the recording from which it can be read, and where the probes sat there. */
interface Block {
  readonly place: RecordingPlace;
  readonly probes: ProbeEntries;
  /** No event before it is later. */
  readonly fromMs: number;
}

interface OverviewData {
  readonly header: RecordingHeader;
  readonly lengthMs: number;
  readonly readings: number;
  readonly problems: readonly Extract<RecordingItem, { kind: 'problem' }>[];
  readonly tally: SessionTally;
  readonly happenings: readonly Happening[];
  readonly happeningsLeftOut: number;
  readonly series: readonly Series[];
  readonly blocks: readonly Block[];
}

export interface Stretch {
  readonly fromMs: number;
  /** Not counted in itself. */
  readonly toMs: number;
  /** At most so many buckets come back. */
  readonly most: number;
}

/**
 * A whole session at a glance, from the cache beside the recording when that is current; else the recording is read
 * once, and the cache written.
 * @param software name and version of this program
 * @throws {NotARecording} when the file can't be used.
 */
export async function openOverview(file: string, software: string): Promise<Overview> {
  const maker = new OverviewMaker();
  const path = cachePath(file, 'overview');
  const madeBy = `${software}, ${CACHE_FORM}`;
  const known = await loadCache(path, file, madeBy);
  if (known !== null) return new Overview(unpacked(file, known as PackedData));
  const before = await keyOf(madeBy, [file]);
  for await (const piece of readPieces(file)) maker.take(piece);
  const after = await keyOf(madeBy, maker.paths);
  const data = maker.data(file);
  // A session that is still being recorded has grown meanwhile: the next call reads it again.
  const isWhole = maker.paths.length === 1 || maker.isClosed;
  if (before !== null && after !== null && isWhole && isSameFirst(before, after)) {
    await saveCache(path, after, packed(data));
  }
  return new Overview(data);
}

/** Null when a file is gone: reading it then says so. */
async function keyOf(software: string, paths: readonly string[]): Promise<CacheKey | null> {
  return cacheKey(software, paths).catch(() => null);
}

interface PackedData extends Omit<OverviewData, 'series'> {
  readonly series: readonly (Omit<Series, 'buckets'> & { readonly columns: BucketColumns })[];
}

function packed(data: OverviewData): PackedData {
  const series = data.series.map(({ buckets, ...rest }) => ({ ...rest, columns: toColumns(buckets) }));
  return { ...data, series };
}

function unpacked(file: string, data: PackedData): OverviewData {
  return {
    ...data,
    series: data.series.map(({ columns, ...rest }) => ({ ...rest, buckets: fromColumns(columns) })),
    blocks: data.blocks.map((block) => ({ ...block, place: placeBeside(file, block.place) })),
  };
}

/** What a page needs to draw a session and to look into any part of it. */
export class Overview {
  readonly header: RecordingHeader;
  readonly lengthMs: number;
  readonly readings: number;
  /** The first of them, found when the overview was made. */
  readonly problems: readonly Extract<RecordingItem, { kind: 'problem' }>[];
  readonly tally: SessionTally;
  /** What happened besides readings, in order; the first of it. */
  readonly happenings: readonly Happening[];
  readonly happeningsLeftOut: number;
  readonly series: readonly Series[];
  readonly #blocks: readonly Block[];

  constructor(data: OverviewData) {
    this.header = data.header;
    this.lengthMs = data.lengthMs;
    this.readings = data.readings;
    this.problems = data.problems;
    this.tally = data.tally;
    this.happenings = data.happenings;
    this.happeningsLeftOut = data.happeningsLeftOut;
    this.series = data.series;
    this.#blocks = data.blocks;
  }

  /** Of every file of the session. */
  get paths(): readonly string[] {
    return [...new Set(this.#blocks.map(({ place }) => place.path))];
  }

  /**
   * Lowest, highest and mean over a stretch of time for one series, in at most `most` buckets; times without a
   * reading have none. What the overview is too coarse for is read from the recording, and only that part of it.
   * From the overview, the first and last bucket may reach beyond the stretch: they say how far.
   */
  async curve(series: Series, stretch: Stretch): Promise<readonly Bucket[]> {
    const [buckets = []] = await this.curves([series], stretch);
    return buckets;
  }

  /** The same for several series, reading the recording once. In the order of `wanted`. */
  async curves(wanted: readonly Series[], stretch: Stretch): Promise<readonly (readonly Bucket[])[]> {
    const wantedMs = (stretch.toMs - stretch.fromMs) / stretch.most;
    const fine = wanted.filter(({ buckets: [first] }) => first && first.toMs - first.fromMs > wantedMs);
    const read = fine.length === 0 ? [] : await this.#read(fine, stretch);
    return wanted.map((series) => read[fine.indexOf(series)] ?? joinedTo(series.buckets, stretch));
  }

  async #read(wanted: readonly Series[], stretch: Stretch): Promise<readonly (readonly Bucket[])[]> {
    const block = this.#blocks.findLast(({ fromMs }) => fromMs < stretch.fromMs) ?? this.#blocks[0];
    if (block === undefined) return [];
    const { place } = block;
    const found = new SeriesReadings(wanted, stretch, new ProbePlaces(block.probes));
    const pieces = place.memory === null ? readPieces(place.path) : readPiecesFrom(place);
    for await (const { items } of pieces) {
      for (const item of items) {
        if (item.kind === 'event' && item.event.kind === 'probe') found.move(item.event);
        if (item.kind !== 'events') continue;
        for (const event of item.events) {
          if (event.atMs >= stretch.toMs) return found.buckets();
          if (event.kind === 'reading') found.take(event);
        }
      }
    }
    return found.buckets();
  }
}

interface SeriesInMaking {
  readonly first: ReadingEvent;
  readonly point: string | null;
  readonly decimator: Decimator;
}

class OverviewMaker {
  #header: RecordingHeader | null = null;
  #lengthMs = 0;
  #readings = 0;
  readonly #problems: Extract<RecordingItem, { kind: 'problem' }>[] = [];
  readonly #tally = new Tally();
  readonly #happenings = new Happenings();
  readonly #places = new ProbePlaces();
  readonly #series: SeriesInMaking[] = [];
  /** By instrument, then channel: the series that its readings go to now. Emptied when a probe moves. */
  #now = new Map<string, Map<string, SeriesInMaking>>();
  readonly #blocks: Block[] = [];
  readonly #paths = new Set<string>();
  #isClosed = false;

  /** Whether the session's closing line has been seen. */
  get isClosed(): boolean {
    return this.#isClosed;
  }

  get paths(): readonly string[] {
    return [...this.#paths];
  }

  take({ items, path, byte, line, memory }: RecordingPiece): void {
    this.#paths.add(path);
    this.#blocks.push({
      place: { path, byte, line, memory },
      probes: this.#places.entries(),
      fromMs: this.#lengthMs,
    });
    for (const item of items) {
      this.#tally.take(item);
      if (item.kind === 'events') for (const event of item.events) this.#event(event);
      else this.#item(item);
    }
  }

  data(file: string): OverviewData {
    if (this.#header === null)
      throw new NotARecording(`${file}: there is no header in it; name a recording.`);
    return {
      header: this.#header,
      lengthMs: this.#lengthMs,
      readings: this.#readings,
      problems: this.#problems,
      tally: this.#tally.result(),
      happenings: this.#happenings.kept,
      happeningsLeftOut: this.#happenings.leftOut,
      series: this.#series.map(({ first: { instrument, channel, unit }, point, decimator }) => ({
        instrument,
        channel,
        unit,
        point,
        buckets: decimator.buckets(),
      })),
      blocks: this.#blocks,
    };
  }

  #item(item: Exclude<PieceItem, { kind: 'events' }>): void {
    if (item.kind === 'header') this.#header = item.header;
    if (item.kind === 'end') this.#isClosed = true;
    if (item.kind === 'problem' && this.#problems.length < MOST_PROBLEMS) this.#problems.push(item);
    if (item.kind === 'effect' && item.effect.kind === 'alarm') this.#happenings.alarm(item.effect);
    if (item.kind !== 'event') return;
    this.#happenings.event(item.event);
    this.#lengthMs = Math.max(this.#lengthMs, item.event.atMs);
    if (item.event.kind !== 'probe') return;
    this.#places.move(item.event);
    this.#now = new Map();
  }

  #event(event: ReadingEvent | { readonly kind: 'tick'; readonly atMs: number }): void {
    if (event.atMs > this.#lengthMs) this.#lengthMs = event.atMs;
    if (event.kind === 'tick') return;
    this.#readings += 1;
    if (event.value !== null) this.#seriesOf(event).decimator.add(event.atMs, event.value);
  }

  #seriesOf(reading: ReadingEvent): SeriesInMaking {
    const known = this.#now.get(reading.instrument)?.get(reading.channel);
    if (known !== undefined && known.first.unit === reading.unit) return known;
    const point = this.#places.of(reading);
    const before = this.#series.find(
      ({ first, point: its }) =>
        its === point &&
        first.instrument === reading.instrument &&
        first.channel === reading.channel &&
        first.unit === reading.unit,
    );
    const series = before ?? { first: reading, point, decimator: new Decimator(BUCKETS) };
    if (before === undefined) this.#series.push(series);
    const ofInstrument = this.#now.get(reading.instrument) ?? new Map<string, SeriesInMaking>();
    this.#now.set(reading.instrument, ofInstrument.set(reading.channel, series));
    return series;
  }
}
