import type { Overview, Stretch } from '../index/overview.js';
import { TimeOfDay } from '../session/time-of-day.js';
import { csvLine } from './csv.js';

/** More digits than any meter has; hides what a sum of many readings adds. */
const DIGITS = 9;

/**
 * Lowest, mean and highest of each channel over a stretch of time, in at most `most` lines a channel and test point.
 * A time without a reading has no line.
 */
export async function* extremesCsv(overview: Overview, stretch: Stretch): AsyncGenerator<string, void, void> {
  const time = new TimeOfDay(overview.header.startedAt);
  yield csvLine([
    'time (ISO 8601)',
    'since start (s)',
    'length (s)',
    'test point',
    'instrument',
    'channel',
    'lowest',
    'mean',
    'highest',
    'unit',
    'readings',
  ]);
  for (const series of overview.series) {
    const { point, instrument, channel, unit } = series;
    let text = '';
    for (const { fromMs, toMs, low, mean, high, count } of await overview.curve(series, stretch)) {
      const when = [time.iso(fromMs), fromMs / 1000, (toMs - fromMs) / 1000];
      const values = [low, Number(mean.toPrecision(DIGITS)), high];
      text += csvLine([...when, point, instrument, channel, ...values, unit, count]);
    }
    yield text;
  }
}
