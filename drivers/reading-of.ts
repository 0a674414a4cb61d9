import type { ChannelSpec, InstrumentEvent, ReadingMark } from './driver.js';
import { PLAUSIBLE } from './plausible.js';
import { UNIT_OF } from './units.js';

export type Reading = Extract<InstrumentEvent, { kind: 'reading' }>;

/** Makes one channel's readings; see {@link readingMaker}. `value` counts only when `mark` is null. */
export type ReadingMaker = (value: number, mark: ReadingMark | null, atMs: number) => Reading;

/** What boards print for a one-wire sensor that doesn't answer, degrees C; it ends at -55. Common practice. */
const UNANSWERED = -127;

/** What a channel's readings have in common is looked up once. A value that can't be is marked `out-of-range`. */
export function readingMaker({ name: channel, measures }: ChannelSpec): ReadingMaker {
  const unit = UNIT_OF[measures];
  const { low, high } = PLAUSIBLE[measures];
  const unanswered = measures === 'temperature' ? UNANSWERED : NaN; // which nothing equals
  return (value, mark, atMs) => {
    if (mark !== null || value === unanswered) {
      return { kind: 'reading', atMs, channel, value: null, unit, mark: mark ?? 'not-a-number' };
    }
    if (value >= low && value <= high) return { kind: 'reading', atMs, channel, value, unit };
    return { kind: 'reading', atMs, channel, value: null, unit, mark: 'out-of-range' };
  };
}
