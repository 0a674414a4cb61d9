import type { PointUnit, Prediction } from '../../predict/prediction.js';
import type { ReadingEvent } from '../../watch/events.js';
import type { RecordingItem } from '../parse.js';
import { TimeOfDay } from '../session/time-of-day.js';
import { csvLine } from './csv.js';
import { ProbePlaces } from './probe-places.js';

/**
 * A recording as a table for a spreadsheet: one column for each test point of the design, one line for each stretch
 * of `everyMs`, the mean of its readings in it. A stretch without a reading leaves its cell empty: a gap is never
 * filled.
 */
export async function* columnsCsv(
  items: AsyncIterable<RecordingItem>,
  everyMs: number,
): AsyncGenerator<string, void, void> {
  let table: Table | null = null;
  for await (const item of items) {
    if (item.kind === 'header') {
      table = new Table(item.header.startedAt, item.header.plan.prediction, everyMs);
      yield table.head();
    }
    if (table === null || item.kind !== 'event') continue;
    if (item.event.kind === 'probe') table.places.move(item.event);
    if (item.event.kind === 'reading') yield* table.take(item.event);
  }
  if (table !== null) yield* table.end();
}

class Table {
  readonly places = new ProbePlaces();
  readonly #time: TimeOfDay;
  readonly #everyMs: number;
  readonly #columns: readonly { readonly id: string; readonly unit: PointUnit }[];
  /** Sum and count of each column in this stretch. */
  readonly #sums: Map<string, { sum: number; count: number }> = new Map();
  #stretch: number | null = null;

  constructor(startedAt: string, { points }: Prediction, everyMs: number) {
    this.#time = new TimeOfDay(startedAt);
    this.#everyMs = everyMs;
    this.#columns = Object.values(points).map(({ id, unit }) => ({ id, unit }));
  }

  head(): string {
    return csvLine([
      'time (ISO 8601)',
      'since start (s)',
      ...this.#columns.map(({ id, unit }) => `${id} (${unit})`),
    ]);
  }

  *take(reading: ReadingEvent): Generator<string, void, void> {
    const stretch = Math.floor(reading.atMs / this.#everyMs);
    if (this.#stretch !== stretch) yield* this.end();
    this.#stretch = stretch;
    const point = this.places.of(reading);
    const isColumn = this.#columns.some(({ id, unit }) => id === point && unit === reading.unit);
    if (point === null || !isColumn || reading.value === null) return;
    const known = this.#sums.get(point) ?? { sum: 0, count: 0 };
    this.#sums.set(point, { sum: known.sum + reading.value, count: known.count + 1 });
  }

  *end(): Generator<string, void, void> {
    if (this.#stretch === null || this.#sums.size === 0) return;
    const atMs = this.#stretch * this.#everyMs;
    const cells = this.#columns.map(({ id }) => {
      const found = this.#sums.get(id);
      return found === undefined ? null : Number((found.sum / found.count).toPrecision(9));
    });
    this.#sums.clear();
    yield csvLine([this.#time.iso(atMs), atMs / 1000, ...cells]);
  }
}
