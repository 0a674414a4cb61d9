import { firstFrom } from './search.js';
import type { Span } from './span.js';
import { thinned } from './thin.js';
import type { Columns } from './track.js';

const GROUP = 16;
/** So many readings a column make the coarser level as good as the readings themselves. */
const DENSE = 2 * GROUP;

/** What a chart draws from: the readings, or where many fall into one column the extremes of every few of them. */
export class Levels {
  #count = 0;
  #lastMs = NaN;
  #coarse: Columns = { atMs: [], value: [] };

  /** The level that is fine enough for so many columns over the span. */
  for(readings: Columns, { fromMs, toMs }: Span, columns: number): Columns {
    const { atMs } = readings;
    const shown = firstFrom(atMs, toMs, atMs.length) - firstFrom(atMs, fromMs, atMs.length);
    return shown < DENSE * columns ? readings : this.#coarser(readings);
  }

  /** Made once for as long as no reading comes. */
  #coarser(readings: Columns): Columns {
    const count = readings.atMs.length;
    const lastMs = readings.atMs[count - 1] ?? NaN;
    if (count !== this.#count || lastMs !== this.#lastMs) {
      this.#coarse = thinned(readings, GROUP);
      this.#count = count;
      this.#lastMs = lastMs;
    }
    return this.#coarse;
  }
}
