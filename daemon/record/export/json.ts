import type { RecordingItem } from '../parse.js';
import { TimeOfDay } from '../session/time-of-day.js';
import { ProbePlaces } from './probe-places.js';

/** A recording as one JSON document: the header as it is, then every event, with time of day and test point added. */
export async function* sessionJson(items: AsyncIterable<RecordingItem>): AsyncGenerator<string, void, void> {
  const places = new ProbePlaces();
  let time = new TimeOfDay('');
  let comma = '';
  for await (const item of items) {
    if (item.kind === 'header') {
      time = new TimeOfDay(item.header.startedAt);
      yield `{"header":${JSON.stringify(item.header)},\n"events":[`;
    }
    if (item.kind !== 'event' || item.event.kind === 'tick') continue;
    const { event } = item;
    if (event.kind === 'probe') places.move(event);
    const at = time.iso(event.atMs);
    const full = event.kind === 'reading' ? { at, point: places.of(event), ...event } : { at, ...event };
    yield `${comma}\n${JSON.stringify(full)}`;
    comma = ',';
  }
  yield '\n]}\n';
}
