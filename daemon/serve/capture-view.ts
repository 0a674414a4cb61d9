import { captureCounts } from '../watch/capture-counts.js';
import type { Effect } from '../watch/effects.js';
import type { CaptureEvent } from '../watch/events.js';
import type { CaptureView } from './messages.js';

/** As fine as a wide screen shows it; two numbers each. */
export const MOST_COLUMNS = 1000;
/** More than a converter of 12 bits resolves. */
const DIGITS = 5;

/** A capture on a test point with what the core found in it; null where its probe sat nowhere, or without samples. */
export function captureView(event: CaptureEvent, effects: readonly Effect[]): CaptureView | null {
  const { atMs, point, instrument, channel, unit, coupling, stepSeconds } = event;
  const counts = captureCounts(event);
  if (point === null || counts.length === 0) return null;
  const found = effects.find((effect) => effect.kind === 'ripple' && effect.point === point);
  return {
    point,
    atMs,
    measuredBy: `${instrument} ${channel}`,
    unit,
    coupling,
    samples: counts.length,
    lengthSeconds: counts.length * stepSeconds,
    ...columnsOf(counts, event),
    ripple: found?.kind === 'ripple' ? found.ripple : null,
  };
}

/** One loop, hot. */
function columnsOf(
  counts: ArrayLike<number>,
  { scale, offset }: CaptureEvent,
): Pick<CaptureView, 'lows' | 'highs'> {
  const columns = Math.min(counts.length, MOST_COLUMNS);
  const lows = new Float64Array(columns).fill(Infinity);
  const highs = new Float64Array(columns).fill(-Infinity);
  for (let i = 0; i < counts.length; i += 1) {
    const column = Math.floor((i * columns) / counts.length);
    const value = counts[i]! * scale + offset;
    if (value < lows[column]!) lows[column] = value;
    if (value > highs[column]!) highs[column] = value;
  }
  return { lows: Array.from(lows, rounded), highs: Array.from(highs, rounded) };
}

function rounded(value: number): number {
  return Number(value.toPrecision(DIGITS));
}
