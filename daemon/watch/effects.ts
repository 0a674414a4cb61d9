import type { AlarmFacts } from './alarm.js';
import type { Change } from './forecast/change.js';
import type { Forecast } from './forecast/forecast.js';
import type { Captured, StepFailure } from './procedure/procedure-state.js';
import type { RippleFound, RippleMissing } from './ripple/ripple.js';

export type Verdict = 'inside' | 'doubtful' | 'outside';

/** What the core wants the world to know. Data only: words are made from it in words.ts. */
export type Effect = VerdictEffect | ForecastEffect | RippleEffect | AlarmEffect | StepEffect;

/** The verdict of a test point changed (or is known for the first time, or is no longer known: null). */
export interface VerdictEffect {
  readonly kind: 'verdict';
  readonly atMs: number;
  readonly point: string;
  readonly verdict: Verdict | null;
  readonly value: number | null;
}

/** A temperature's readings told where it is going (null: can't tell yet), or that it left its curve. */
export interface ForecastEffect {
  readonly kind: 'forecast';
  readonly atMs: number;
  readonly point: string;
  readonly forecast: Forecast | null;
  readonly change: Change | null;
}

/** What a capture shows of the ripple, or why it shows none. */
export interface RippleEffect {
  readonly kind: 'ripple';
  readonly atMs: number;
  readonly point: string;
  readonly ripple: RippleFound | RippleMissing;
}

/**
 * An alarm changed. `alarm` holds all its facts after the change. `suppressed`: another alarm explains it now;
 * `unsuppressed`: no longer, it stands for itself again.
 */
export interface AlarmEffect {
  readonly kind: 'alarm';
  readonly atMs: number;
  readonly change:
    'raised' | 'worse' | 'acknowledged' | 'returned' | 'removed' | 'suppressed' | 'unsuppressed';
  readonly alarm: AlarmFacts;
}

/**
 * A step of the power-up changed. `captured`: a test point stood still and its value is kept; `ready`: everything is
 * inside, the next step may begin; `failed`: `failures` say what is wrong; `resumed`: nothing is wrong any more.
 */
export interface StepEffect {
  readonly kind: 'step';
  readonly atMs: number;
  readonly step: string;
  readonly change:
    | 'began'
    | 'answered'
    | 'captured'
    | 'ready'
    | 'failed'
    | 'resumed'
    | 'done'
    | 'overridden'
    | 'left'
    | 'aborted'
    | 'signed';
  /** By test point, what was kept so far. */
  readonly captured: Readonly<Record<string, Captured>>;
  readonly failures: readonly StepFailure[];
  /** The reason of an override or abort, the name of a signature; else empty. */
  readonly text: string;
}
