import type { Accuracy } from '../design/bench.js';
import type { LoadState } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';
import type { Prediction } from '../predict/prediction.js';
import type { Procedure } from '../procedure/step.js';

/** Everything that is fixed for a session: what is expected, and what looks at it. */
export interface WatchPlan {
  readonly prediction: Prediction;
  readonly channels: readonly ChannelPlan[];
  /** What tells the load states apart, by test point; left out: the load is never recognised. */
  readonly loads?: LoadBands;
  /** Only in a session that walks through a power-up. */
  readonly procedure?: Procedure;
}

/** In every load state, the bands of the test points that differ between them: raw volts, ripple, amps. */
export type LoadBands = Readonly<Record<LoadState, Readonly<Record<string, Spread>>>>;

export interface ChannelPlan {
  readonly instrument: string;
  readonly channel: string;
  /** The longest time between two readings when all is well. */
  readonly intervalMs: number;
  readonly accuracy?: Accuracy;
  /** A person types its readings: an old one is not shown as good, but silence is no alarm. */
  readonly typed?: true;
}
