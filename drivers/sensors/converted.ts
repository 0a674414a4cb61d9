import type { ReadingMark } from '../driver.js';

/** What a conversion makes of one raw value: a finite number, or the reason why there is none. */
export type Converted =
  { readonly value: number; readonly mark: null } | { readonly value: null; readonly mark: ReadingMark };

/** The sensor can't have sent this: it is broken, shorted, unplugged or not of the kind that was named. */
export const OUT_OF_RANGE: Converted = { value: null, mark: 'out-of-range' };

/** `value`, or `out-of-range` when a sensor equation had no answer. */
export function convertedTo(value: number | null): Converted {
  return value === null || !Number.isFinite(value) ? OUT_OF_RANGE : { value, mark: null };
}
