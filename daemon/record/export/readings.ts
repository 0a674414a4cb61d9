import type { RecordingItem } from '../parse.js';
import { TimeOfDay } from '../session/time-of-day.js';
import { csvLine } from './csv.js';
import { ProbePlaces } from './probe-places.js';

/** Every reading of a recording as CSV, one a line. Without a number, `value` is empty and `mark` says why. */
export async function* readingsCsv(items: AsyncIterable<RecordingItem>): AsyncGenerator<string, void, void> {
  const places = new ProbePlaces();
  let time = new TimeOfDay('');
  yield csvLine([
    'time (ISO 8601)',
    'since start (s)',
    'test point',
    'instrument',
    'channel',
    'value',
    'unit',
    'mark',
  ]);
  for await (const item of items) {
    if (item.kind === 'header') time = new TimeOfDay(item.header.startedAt);
    if (item.kind !== 'event') continue;
    const { event } = item;
    if (event.kind === 'probe') places.move(event);
    if (event.kind !== 'reading') continue;
    const { atMs, instrument, channel, value, unit, mark = null } = event;
    yield csvLine([time.iso(atMs), atMs / 1000, places.of(event), instrument, channel, value, unit, mark]);
  }
}
