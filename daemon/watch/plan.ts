import type { LoadState } from '../design/design.js';
import type { Spread } from '../design/parts/spread.js';
import type { Prediction } from '../predict/prediction.js';
import type { Procedure } from '../procedure/step.js';
import type { Accuracy, CutOffCause } from '../design/bench.js';
import type { RippleRate } from './alarm.js';

/** Everything that is fixed for a session: what is expected, and what looks at it. */
export interface WatchPlan {
  readonly prediction: Prediction;
  readonly channels: readonly ChannelPlan[];
  /** What tells the load states apart, by test point; left out: the load is never recognised. */
  readonly loads?: LoadBands;
  /** Only in a session that walks through a power-up. */
  readonly procedure?: Procedure;
  /** What feeds what; recordings of earlier versions don't say. */
  readonly supply?: SupplyPlan;
  /** The outputs that may be switched. */
  readonly cutOffs?: readonly CutOffPlan[];
}

/** What the alarms want to know of the supply beside its test points. */
export interface SupplyPlan {
  readonly rippleRate: RippleRate;
  readonly rails: readonly RailPlan[];
}

export interface RailPlan {
  readonly name: string;
  /** The reservoir, the filter or the rail that feeds it. */
  readonly from: string;
  readonly polarity: 'positive' | 'negative';
  /** Least difference of input and output, V; null where it isn't known. */
  readonly dropoutVolts: number | null;
  /** A switching module: its own frequency on the rail is no fault. */
  readonly switches: boolean;
}

export interface CutOffPlan {
  readonly output: string;
  /** Kinds of alarm and priorities that drop it. */
  readonly on: readonly CutOffCause[];
  /** Only alarms of these test points, and those that belong to none; null: of all. */
  readonly at: readonly string[] | null;
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
