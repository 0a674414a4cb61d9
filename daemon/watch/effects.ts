import type { AlarmFacts } from './alarm.js';
import type { Change } from './forecast/change.js';
import type { Forecast } from './forecast/forecast.js';
import type { RippleFound, RippleMissing } from './ripple/ripple.js';

export type Verdict = 'inside' | 'doubtful' | 'outside';

/** What the core wants the world to know. Data only: words are made from it in words.ts. */
export type Effect = VerdictEffect | ForecastEffect | RippleEffect | AlarmEffect | CutOffEffect;

/** What a recording holds beside the events, for whoever reads it. */
export type RecordedEffect = AlarmEffect | CutOffEffect;

export function isRecorded(effect: Effect): effect is RecordedEffect {
  return effect.kind === 'alarm' || effect.kind === 'cut-off';
}

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
    | 'raised'
    | 'worse'
    | 'acknowledged'
    | 'returned'
    | 'removed'
    | 'suppressed'
    | 'unsuppressed'
    | 'shelved'
    | 'unshelved';
  readonly alarm: AlarmFacts;
}

/**
 * Something about a cut-off. `dropped`, `test` and `switch-off` ask for power to be taken away now, `switch-on` for
 * it to be let through; the others tell what came of it.
 */
export interface CutOffEffect {
  readonly kind: 'cut-off';
  readonly atMs: number;
  readonly output: string;
  readonly change: CutOffChange;
  /** Id of the alarm that dropped it. */
  readonly alarm: string | null;
  /** What was wrong, where something was: `its link was lost`; else empty. */
  readonly why: string;
}

export type CutOffChange =
  | 'armed'
  | 'disarmed'
  | 'dropped'
  | 'test'
  | 'switch-on'
  | 'switch-off'
  | 'is-on'
  | 'is-off'
  | 'failed'
  | 'fell'
  | 'not-seen-falling'
  | 'refused';
