import { sampleValues } from '../capture/samples.js';
import type { RecordingItem } from '../parse.js';
import { TimeOfDay } from '../session/time-of-day.js';
import { csvLine } from './csv.js';

/** Digits that hold more than 16 bits of counts and hide what a product of two rounded numbers adds. */
const DIGITS = 9;

/** Every sample of every capture of a recording as CSV, one a line. `capture` counts from 1. */
export async function* capturesCsv(items: AsyncIterable<RecordingItem>): AsyncGenerator<string, void, void> {
  let time = new TimeOfDay('');
  let count = 0;
  yield csvLine([
    'capture',
    'time (ISO 8601)',
    'since start (s)',
    'test point',
    'instrument',
    'channel',
    'from trigger (s)',
    'value',
    'unit',
    'coupling',
  ]);
  for await (const item of items) {
    if (item.kind === 'header') time = new TimeOfDay(item.header.startedAt);
    if (item.kind !== 'event' || item.event.kind !== 'capture') continue;
    count += 1;
    const { atMs, point, instrument, channel, unit, coupling, startSeconds, stepSeconds } = item.event;
    const [at, sinceStart] = [time.iso(atMs), atMs / 1000];
    let text = '';
    sampleValues(item.event).forEach((value, i) => {
      const seconds = rounded(startSeconds + i * stepSeconds);
      const cells = [count, at, sinceStart, point, instrument, channel, seconds, rounded(value)];
      text += csvLine([...cells, unit, coupling]);
    });
    yield text;
  }
}

function rounded(value: number): number {
  return Number(value.toPrecision(DIGITS));
}
