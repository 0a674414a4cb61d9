import type { AlarmFacts } from './alarm.js';
import type { Change } from './forecast/change.js';
import type { LoadState } from '../design/design.js';
import type { Forecast } from './forecast/forecast.js';
import type { Suspect } from './suspects/judgement.js';
import type { Captured, StepFailure } from './procedure/procedure-state.js';
import type { RippleFound, RippleMissing } from './ripple/ripple.js';

export type Verdict = 'inside' | 'doubtful' | 'outside';
/** A doubtful value in the band, or out of it. */
export type Leaning = Exclude<Verdict, 'doubtful'>;

/** What the core wants the world to know. Data only: words are made from it in words.ts. */
export type Effect =
  | VerdictEffect
  | SettledEffect
  | LoadRecognisedEffect
  | ForecastEffect
  | RippleEffect
  | AlarmEffect
  | SuspectEffect
  | StepEffect
  | CutOffEffect;

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
  /**
   * That the true value lies in the band, 0 to 1 (JCGM 106:2012); 1 or 0 where nothing is known of the meter. Null
   * without a verdict, and beyond a limit, which counts on the bare value.
   */
  readonly probability: number | null;
  /** Of a doubtful value: on which side of the edge it lies. */
  readonly leaning: Leaning | null;
}

/** A test point's readings stand still on another value than before, or for the first time since its probe came. */
export interface SettledEffect {
  readonly kind: 'settled';
  readonly atMs: number;
  readonly point: string;
  /** Mean of the readings, in the point's unit. */
  readonly value: number;
  /** Of the meter (half of its half-width) and of the mean, combined as JCGM 100:2008, 5.1.2, says; 0: nothing known. */
  readonly standardUncertainty: number;
  readonly count: number;
}

/** Another fault than before, or none, is what the readings most speak for. */
export interface SuspectEffect {
  readonly kind: 'suspect';
  readonly atMs: number;
  /** The most probable one; null when nothing known is. */
  readonly leading: Suspect | null;
}

/** What has settled speaks clearly for another load state than the one in force. */
export interface LoadRecognisedEffect {
  readonly kind: 'load-recognised';
  readonly atMs: number;
  readonly load: LoadState;
  /** The test points that say so. */
  readonly because: readonly string[];
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
