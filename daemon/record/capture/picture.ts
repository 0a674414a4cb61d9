import type { CaptureEvent } from '../../watch/events.js';
import { sampleValues } from './samples.js';

/** Finer than anybody sees on paper. */
const MOST_COLUMNS = 500;

/** A capture as far as it is drawn: lowest and highest of each column, so that no peak is lost. */
export interface CapturePicture extends Omit<CaptureEvent, 'samples' | 'counts' | 'scale' | 'offset'> {
  readonly samples: number;
  readonly lows: readonly number[];
  readonly highs: readonly number[];
  readonly low: number;
  readonly high: number;
  readonly mean: number;
}

/** Null when it holds no sample. */
export function capturePicture(event: CaptureEvent): CapturePicture | null {
  const values = sampleValues(event);
  if (values.length === 0) return null;
  const columns = Math.min(values.length, MOST_COLUMNS);
  const lows = new Array<number>(columns).fill(Infinity);
  const highs = new Array<number>(columns).fill(-Infinity);
  let sum = 0;
  values.forEach((value, i) => {
    const column = Math.floor((i * columns) / values.length);
    lows[column] = Math.min(lows[column] ?? value, value);
    highs[column] = Math.max(highs[column] ?? value, value);
    sum += value;
  });
  const { kind, atMs, instrument, channel, point, unit, startSeconds, stepSeconds, coupling } = event;
  return {
    kind,
    atMs,
    instrument,
    channel,
    point,
    unit,
    startSeconds,
    stepSeconds,
    coupling,
    samples: values.length,
    lows,
    highs,
    low: Math.min(...lows),
    high: Math.max(...highs),
    mean: sum / values.length,
  };
}
